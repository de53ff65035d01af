//! Propagation of uncertainty to first order, with its budget.
//!
//! 1. sensitivities cᵢ = ∂f/∂xᵢ at the estimates, by central differences
//! 2. u_c² = Σᵢ Σⱼ cᵢ·uᵢ·rᵢⱼ·cⱼ·uⱼ
//! 3. share of input i: cᵢ·uᵢ·Σⱼ rᵢⱼ·cⱼ·uⱼ / u_c²
//!
//! The step is a ten-thousandth of u, and no less than a millionth of the
//! estimate, so that neither the curvature of f nor rounding shows in nine
//! digits. Where one side has no answer the other is used, to the same order;
//! where neither has, there is no sensitivity.
//!
//! Source: JCGM 100:2008 (GUM), 5.1 and 5.2.

use super::distribution::Joint;
use super::parallel::in_parallel;

/// The step in standard uncertainties.
const STEP_IN_U: f64 = 1e-4;
/// The least step, as a share of the estimate.
const LEAST_STEP: f64 = 1e-6;
/// A difference of so many units in the last place is rounding.
const ROUNDING: f64 = 16.0 * f64::EPSILON;

/// How each of `plain`, the numbers that the model gives for the estimates,
/// changes with each input: a row an input, NaN where it cannot be told. The
/// model gives as many numbers, NaN for one that is not there, or none at all.
pub fn sensitivities<E>(
    joint: &Joint,
    plain: &[f64],
    threads: usize,
    model: impl Fn(&[f64], &mut Vec<f64>) -> Result<(), E> + Sync,
) -> Vec<Vec<f64>> {
    let estimates: Vec<f64> = joint.inputs.iter().map(|input| input.estimate).collect();
    in_parallel(threads, joint.inputs.len(), |i| {
        let input = &joint.inputs[i];
        let h = (STEP_IN_U * input.u).max(LEAST_STEP * input.estimate.abs());
        if input.u == 0.0 || h == 0.0 {
            return vec![0.0; plain.len()];
        }
        let at = |steps: f64| {
            let mut x = estimates.clone();
            x[i] += steps * h;
            let mut y = Vec::with_capacity(plain.len());
            match model(&x, &mut y) {
                Ok(()) => y,
                Err(_) => vec![f64::NAN; plain.len()],
            }
        };
        let (above, below) = (at(1.0), at(-1.0));
        // The step as it came out in binary numbers.
        let h = ((estimates[i] + h) - (estimates[i] - h)) / 2.0;
        let one_sided = |side: f64, near: &[f64]| {
            let far = at(2.0 * side);
            let slope = |k: usize| side * (4.0 * near[k] - 3.0 * plain[k] - far[k]) / (2.0 * h);
            (0..plain.len()).map(slope).collect::<Vec<_>>()
        };
        let missing = |y: &[f64]| y.iter().zip(plain).any(|(y, p)| y.is_nan() && !p.is_nan());
        let up = if missing(&below) { one_sided(1.0, &above) } else { Vec::new() };
        let down = if missing(&above) { one_sided(-1.0, &below) } else { Vec::new() };
        let slope = |k: usize| {
            if below[k].is_nan() {
                up.get(k).copied().unwrap_or(f64::NAN)
            } else if above[k].is_nan() {
                down.get(k).copied().unwrap_or(f64::NAN)
            } else if (above[k] - below[k]).abs() <= ROUNDING * above[k].abs() {
                0.0
            } else {
                (above[k] - below[k]) / (2.0 * h)
            }
        };
        (0..plain.len()).map(slope).collect()
    })
}

/// What each input does to one number.
#[derive(Debug, Clone, PartialEq)]
pub struct Budget {
    /// The combined standard uncertainty.
    pub u: f64,
    /// Each input's share of its square, from 0 to 1 where nothing is correlated;
    /// nothing of nothing.
    pub shares: Vec<f64>,
}

/// The budget of a number with these `sensitivities`.
#[must_use]
pub fn budget(joint: &Joint, sensitivities: &[f64]) -> Budget {
    let parts: Vec<f64> = joint.inputs.iter().zip(sensitivities).map(|(d, c)| c * d.u).collect();
    let of_variance = parts.iter().enumerate().map(|(i, part)| {
        let together = parts.iter().enumerate().map(|(j, other)| joint.correlation(i, j) * other);
        part * together.sum::<f64>()
    });
    let of_variance: Vec<f64> = of_variance.collect();
    let variance = of_variance.iter().sum::<f64>().max(0.0);
    let all: f64 = parts.iter().map(|part| part * part).sum();
    // What correlated inputs leave of each other may be rounding alone.
    let nothing = variance <= ROUNDING * all;
    let share = |part: f64| if nothing { 0.0 } else { part / variance };
    let u = if nothing { 0.0 } else { variance.sqrt() };
    Budget { u, shares: of_variance.into_iter().map(share).collect() }
}
