//! Amounts as somebody measures them out.
//!
//! An answer is exact; a bucket is not. What a statement and steps tell a person to pour
//! is rounded to what that person measures with, and what they then say of the strength
//! is that of the rounded amounts.

use crate::quantity::{Capacity, Quantity};

/// The step that all amounts of one job are rounded to, in litres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuringStep(f64);

/// By default the smallest amount is measured to a fiftieth of it or better. Common
/// practice, no source.
const FINEST: f64 = 50.0;

impl MeasuringStep {
    /// What the caller measures to; else 1, 2 or 5 times a power of ten litres, by the
    /// smallest of the amounts.
    pub fn of(asked: Option<Capacity>, litres: impl IntoIterator<Item = f64>) -> Self {
        if let Some(asked) = asked {
            return Self(asked.get());
        }
        let poured = litres.into_iter().filter(|v| *v > 0.0);
        let finest = poured.fold(f64::INFINITY, f64::min) / FINEST;
        if !finest.is_finite() || finest <= 0.0 {
            return Self(0.0);
        }
        let decade = 10_f64.powf(finest.log10().floor());
        let times = [5.0, 2.0, 1.0].into_iter().find(|times| times * decade <= finest * 1.000_001);
        Self(times.unwrap_or(1.0) * decade)
    }

    /// An amount to the nearest step. What is less than half a step, which nobody
    /// measures with it, stays as it is.
    #[must_use]
    pub fn round(self, litres: f64) -> f64 {
        if self.0 <= 0.0 || litres < self.0 / 2.0 {
            return litres;
        }
        (litres / self.0).round() * self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::OutOfRange;

    #[test]
    fn one_step_serves_the_smallest_and_the_largest() {
        let step = MeasuringStep::of(None, [6.23, 53.77, 0.0]);
        assert!((step.round(6.23) - 6.2).abs() < 1e-12, "{}", step.round(6.23));
        assert!((step.round(53.77) - 53.8).abs() < 1e-12, "{}", step.round(53.77));
        assert_eq!(MeasuringStep::of(None, [737.0]).round(737.0), 740.0);
    }

    #[test]
    fn what_is_too_little_for_the_step_stays() -> Result<(), OutOfRange> {
        let step = MeasuringStep::of(Some(Capacity::of(0.5)?), [0.2, 11.9]);
        assert_eq!(step.round(11.9), 12.0);
        assert_eq!(step.round(0.2), 0.2);
        assert_eq!(MeasuringStep::of(None, []).round(3.3), 3.3);
        Ok(())
    }
}
