//! What the entries look like with what came after them (Rauch, Tung and Striebel).
//!
//! With x, P the estimate after an entry is read, x⁻, P⁻ what it leads to at the next, A how, and x̂,
//! P̂ the smoothed next:
//!
//! 1. G = P·Aᵀ·(P⁻)⁻¹
//! 2. x ← x + G·(x̂ − x⁻), P ← P + G·(P̂ − P⁻)·Gᵀ
//!
//! Across a step that nobody wrote down nothing is smoothed.

use super::filter::{Belief, Innovation, STEP};
use super::run::Step;
use crate::numerics::small_square::SmallSquare;
use nalgebra::{DMatrix, DVector};

/// The entries, smoothed, in their order.
pub(super) fn smoothed(steps: &[Step]) -> Vec<Belief> {
    let mut backwards: Vec<Belief> = Vec::with_capacity(steps.len());
    for (k, step) in steps.iter().enumerate().rev() {
        let next = steps.get(k + 1).zip(backwards.last());
        let belief = match next {
            Some((next, later)) if !is_step(next.volume) && !is_step(next.strength) => {
                back(step, next, later)
            }
            _ => step.read.clone(),
        };
        backwards.push(belief);
    }
    backwards.reverse();
    backwards
}

fn is_step(innovation: Option<Innovation>) -> bool {
    innovation.is_some_and(|own| own.z.abs() > STEP)
}

fn back(step: &Step, next: &Step, later: &Belief) -> Belief {
    let whole = |belief: &Belief| (DVector::from_column_slice(&belief.x), belief.p.whole());
    let [(x, p), (x_before, p_before), (x_next, p_next)] =
        [&step.read, &next.expected, later].map(whole);
    let Some(inverse) = inverse(&p_before) else { return step.read.clone() };
    let gain = &p * next.led_here.whole().transpose() * inverse;
    let x = x + &gain * (x_next - x_before);
    let p = p + &gain * (p_next - p_before) * gain.transpose();
    let mut p = SmallSquare::of(&p);
    p.even_out();
    Belief { x: x.as_slice().into(), p }
}

/// The inverse of a covariance, in which some places may be known exactly. Units are taken out
/// first, so that they do not decide what counts as nothing.
fn inverse(p: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    const NOTHING: f64 = 1e-12;
    let scale = DVector::from_iterator(
        p.nrows(),
        p.diagonal()
            .iter()
            .map(|variance| if *variance > 0.0 { variance.sqrt().recip() } else { 0.0 }),
    );
    let scale = DMatrix::from_diagonal(&scale);
    let inner = (&scale * p * &scale).pseudo_inverse(NOTHING).ok()?;
    Some(&scale * inner * &scale)
}
