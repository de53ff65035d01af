//! The two-sided cumulative sum of standardised numbers (CUSUM), a control chart for slow changes.
//!
//! With z a number in standard deviations, and S the sum of one side:
//!
//! 1. S = max(0, S + z − k), k = 0.5; the other side takes −z
//!
//! A side above h = 5 is an alarm: once in 465 numbers where nothing changes, within 38 of a shift by half
//! a standard deviation. Source: Brook and Evans, Biometrika 59 (1972), 539–549.

/// What is allowed for in each number, k.
const ALLOWANCE: f64 = 0.5;
/// Above this a sum is an alarm, h.
pub const ALARM: f64 = 5.0;

/// A side's sum after a number more.
#[must_use]
pub fn next(sum: f64, z: f64) -> f64 {
    (sum + z - ALLOWANCE).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use rand::{RngExt, SeedableRng};
    use rand_pcg::Pcg64;
    use statrs::distribution::{ContinuousCDF, Normal};

    /// Average run lengths of the two-sided sum with k = 0.5 and h = 5 by the shift in standard
    /// deviations: Brook and Evans (1972), by a Markov chain of 800 states.
    #[test]
    fn run_lengths_are_those_that_are_published() {
        const RUNS: u32 = 4000;
        let mut random = Pcg64::seed_from_u64(13);
        for (shift, published, near) in
            [(0.0, 465.4, 0.05), (0.5, 38.0, 0.04), (1.0, 10.38, 0.03), (2.0, 4.009, 0.02)]
        {
            let mut readings = 0_u32;
            for _ in 0..RUNS {
                let (mut up, mut down) = (0.0, 0.0);
                while up <= ALARM && down <= ALARM {
                    readings += 1;
                    let share: f64 = random.random();
                    let z = shift + Normal::standard().inverse_cdf(share.clamp(1e-15, 1.0 - 1e-15));
                    (up, down) = (next(up, z), next(down, -z));
                }
            }
            let mean = f64::from(readings) / f64::from(RUNS);
            assert!((mean / published - 1.0).abs() < near, "shift {shift}: {mean}");
        }
    }
}
