//! Propagation of distributions by drawing.
//!
//! 1. draw x⁽ʳ⁾ from the joint distribution, y⁽ʳ⁾ = f(x⁽ʳ⁾), r = 1 … M
//! 2. estimate ȳ = Σ y⁽ʳ⁾/M, u(y)² = Σ (y⁽ʳ⁾ − ȳ)²/(M − 1)
//! 3. with the draws in order, q = 0.95·M (rounded up from the middle) and
//!    r = (M − q)/2: the interval from y₍ᵣ₎ to y₍ᵣ₊q₎ is probabilistically
//!    symmetric; a percentile is an end of the interval with as much beyond it
//!
//! Draws come in chunks, each with a stream of its own, so that the same seed
//! gives the same numbers whatever number of threads does the work.
//!
//! Source: JCGM 101:2008, clause 7.

use super::distribution::Joint;
use super::parallel::in_parallel;
use crate::numerics::cut_off::look;
use rand::Rng;
use rand_pcg::Pcg64;

/// Draws from one stream.
const CHUNK: usize = 256;
/// What part of a distribution an interval holds.
pub const COVERAGE: f64 = 0.95;
/// Fewer values than this have no interval that holds 95 % of them.
pub const FEWEST: usize = 40;

/// What came of the draws.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn<E> {
    width: usize,
    chunks: Vec<Vec<f64>>,
    /// Why draws were refused, one entry a draw.
    pub refused: Vec<E>,
}

/// Draws `draws` times and runs `model` on each draw. The model appends `width`
/// numbers, NaN for one that this draw does not have, or says why it cannot.
pub fn draw<E: Send>(
    joint: &Joint,
    (draws, seed): (usize, u64),
    width: usize,
    threads: usize,
    model: impl Fn(&[f64], &mut Vec<f64>) -> Result<(), E> + Sync,
) -> Drawn<E> {
    let chunk = |number: usize| {
        let size = CHUNK.min(draws - number * CHUNK);
        let mut random = Pcg64::new(u128::from(seed), number as u128);
        let mut uniform = || between_0_and_1(random.next_u64());
        let mut x = Vec::with_capacity(joint.inputs.len());
        let mut values = Vec::with_capacity(size * width);
        let mut refused = Vec::new();
        for _ in 0..size {
            look();
            joint.draw(&mut uniform, &mut x);
            let before = values.len();
            if let Err(why) = model(&x, &mut values) {
                values.truncate(before);
                refused.push(why);
            }
        }
        (values, refused)
    };
    let done = in_parallel(threads, draws.div_ceil(CHUNK), chunk);
    let (chunks, refused): (Vec<_>, Vec<_>) = done.into_iter().unzip();
    Drawn { width, chunks, refused: refused.into_iter().flatten().collect() }
}

/// The middle of one of 2⁵³ equal parts of the interval from 0 to 1.
#[expect(clippy::cast_precision_loss, reason = "53 bits fit exactly")]
fn between_0_and_1(bits: u64) -> f64 {
    const PART: f64 = 1.0 / (1_u64 << 53) as f64;
    ((bits >> 11) as f64 + 0.5) * PART
}

impl<E> Drawn<E> {
    /// The values of one number over the draws that have it.
    #[must_use]
    pub fn values(&self, number: usize) -> Vec<f64> {
        let rows = self.chunks.iter().flat_map(|chunk| chunk.chunks_exact(self.width));
        rows.map(|row| row[number]).filter(|value| !value.is_nan()).collect()
    }
}

/// How a number scatters.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Scatter {
    /// The mean of the draws.
    pub mean: f64,
    /// Their standard deviation: the standard uncertainty.
    pub u: f64,
    /// The lower end of the 95 % interval.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

/// A scatter of no more than this share of the number itself is rounding.
pub const ROUNDING: f64 = 1e-12;

impl Scatter {
    /// The scatter of `values`, which are left in another order; none of too few.
    #[must_use]
    #[expect(clippy::cast_precision_loss, reason = "far fewer draws than 2^52")]
    pub fn of(values: &mut [f64]) -> Option<Self> {
        let m = values.len();
        if m < FEWEST {
            return None;
        }
        let mean = values.iter().sum::<f64>() / m as f64;
        let squares: f64 = values.iter().map(|y| (y - mean) * (y - mean)).sum();
        let u = (squares / (m - 1) as f64).sqrt();
        if u <= ROUNDING * mean.abs() {
            let constant = values[0];
            return Some(Self { mean: constant, u: 0.0, low: constant, high: constant });
        }
        let (low, high) = ends(m, COVERAGE);
        Some(Self { mean, u, low: in_order(values, low), high: in_order(values, high) })
    }
}

/// The value that the share `p` of `values` lie below, which are left in another order:
/// the end of the probabilistically symmetric interval that has `p` on one side of it,
/// and for a half the middle one. There must be at least one value.
pub fn percentile(values: &mut [f64], p: f64) -> f64 {
    let (low, high) = ends(values.len(), (2.0 * p - 1.0).abs());
    in_order(values, if p > 0.5 { high } else { low })
}

/// The places, in order and from 0, of the two ends of the interval that holds `share`.
fn ends(m: usize, share: f64) -> (usize, usize) {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        clippy::cast_precision_loss,
        reason = "a part of a number of draws"
    )]
    let q = (share * m as f64 + 0.5) as usize;
    // JCGM 101 counts from 1; where (M − q)/2 is no whole number it is rounded up.
    let r = (m - q).div_ceil(2);
    (r.saturating_sub(1), (r + q).saturating_sub(1).min(m - 1))
}

fn in_order(values: &mut [f64], place: usize) -> f64 {
    *values.select_nth_unstable_by(place, f64::total_cmp).1
}

/// Twice the standard error of each end of the interval, which as many other
/// draws would put elsewhere: from the order statistics two standard deviations
/// of the binomial distribution either side of the end.
#[must_use]
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    clippy::cast_precision_loss,
    reason = "a part of a number of draws"
)]
pub fn errors_of_ends(values: &mut [f64]) -> (f64, f64) {
    let m = values.len();
    let tail = (1.0 - COVERAGE) / 2.0;
    let away = (2.0 * (m as f64 * tail * (1.0 - tail)).sqrt()).ceil() as usize;
    let (low, high) = ends(m, COVERAGE);
    let mut error = |place: usize| {
        let below = in_order(values, place.saturating_sub(away));
        let above = in_order(values, (place + away).min(m - 1));
        (above - below) / 2.0
    };
    (error(low), error(high))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::numerics::distribution::{Distribution, DistributionShape};

    #[test]
    fn the_number_of_threads_changes_nothing() {
        let input = Distribution { estimate: 1.0, u: 0.5, shape: DistributionShape::Normal };
        let joint = Joint::independent(vec![input; 2]);
        let positive = |x: &[f64], y: &mut Vec<f64>| {
            y.push(x[0] + x[1]);
            if x[0] < 0.0 { Err("below nothing") } else { Ok(()) }
        };
        let one = draw(&joint, (3_000, 5), 1, 1, positive);
        assert!(!one.refused.is_empty());
        assert_eq!(one.values(0).len() + one.refused.len(), 3_000);
        for threads in [2, 3, 16] {
            assert_eq!(draw(&joint, (3_000, 5), 1, threads, positive), one);
        }
        assert_ne!(draw(&joint, (3_000, 6), 1, 1, positive), one);
    }

    #[test]
    fn a_percentile_is_an_end_of_an_interval() {
        // JCGM 101, 7.7: of 1,000 values in order the interval that holds 80 % of them runs
        // from the 100th to the 900th.
        let mut values: Vec<f64> = (1..=1_000).rev().map(f64::from).collect();
        assert_eq!(
            [0.1, 0.5, 0.9, 0.95].map(|p| percentile(&mut values, p)),
            [100.0, 500.0, 900.0, 950.0]
        );
        assert_eq!([0.0, 0.5, 1.0].map(|p| percentile(&mut [7.0], p)), [7.0; 3]);
    }

    #[test]
    fn the_interval_leaves_as_much_below_as_above() {
        // JCGM 101, 7.7: of 1,000 values in order the interval runs from the 25th to
        // the 975th; of 40 from the first to the 39th.
        let mut values: Vec<f64> = (1..=1_000).rev().map(f64::from).collect();
        let scatter = Scatter::of(&mut values).expect("enough");
        assert_eq!((scatter.low, scatter.high), (25.0, 975.0));
        let mut few: Vec<f64> = (1..=40).map(f64::from).collect();
        let scatter = Scatter::of(&mut few).expect("enough");
        assert_eq!((scatter.low, scatter.high), (1.0, 39.0));
        assert_eq!(Scatter::of(&mut few[..39]), None);
        let constant = Scatter::of(&mut [0.1; 50]).expect("enough");
        assert_eq!((constant.u, constant.mean), (0.0, 0.1));
    }

    /// Of a thousand evenly spaced values the 25th is known to within two standard deviations
    /// of its place, √(1000 · 0.025 · 0.975) = 4.94: ten places.
    #[test]
    fn an_end_is_as_sure_as_its_place_among_the_draws() {
        let mut values: Vec<f64> = (1..=1_000).map(|value| 3.0 * f64::from(value)).collect();
        assert_eq!(errors_of_ends(&mut values), (30.0, 30.0));
    }
}
