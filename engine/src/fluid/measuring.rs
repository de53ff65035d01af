//! Amounts as somebody measures them out.
//!
//! An answer is exact; a bucket is not. What a statement and steps tell a person to pour
//! is rounded to what that person measures with, and what they then say of the strength
//! is that of the rounded amounts. Whoever reads gallons measures gallons: the step is a
//! round one in the units in which the words are read.

use crate::quantity::{Capacity, Measure, Quantity, Volume, measures_in};

/// The step that all amounts of one job are rounded to, in litres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MeasuringStep(f64);

/// By default the smallest amount is measured to a fiftieth of it or better. Common
/// practice, no source.
const FINEST: f64 = 50.0;

impl MeasuringStep {
    /// What the caller measures to; else 1, 2 or 5 times a power of ten litres or US
    /// gallons, by the smallest of the amounts.
    pub fn of(asked: Option<Capacity>, litres: impl IntoIterator<Item = f64>) -> Self {
        if let Some(asked) = asked {
            return Self(asked.get());
        }
        let unit = Volume::ROW.units.to_metric(1.0, measures_in());
        let poured = litres.into_iter().filter(|v| *v > 0.0);
        let finest = poured.fold(f64::INFINITY, f64::min) / FINEST / unit;
        if !finest.is_finite() || finest <= 0.0 {
            return Self(0.0);
        }
        let decade = 10_f64.powf(finest.log10().floor());
        let times = [5.0, 2.0, 1.0].into_iter().find(|times| times * decade <= finest * 1.000_001);
        Self(times.unwrap_or(1.0) * decade * unit)
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

    /// Amounts to the nearest step that together are no more than `most` litres, so that
    /// what they go into is not filled above what was asked for.
    #[must_use]
    pub fn round_within(self, litres: &[f64], most: f64) -> Vec<f64> {
        /// Of the whole: rounding of binary fractions.
        const ROUNDING: f64 = 1e-9;
        let mut rounded: Vec<f64> = litres.iter().map(|v| self.round(*v)).collect();
        let over = rounded.iter().sum::<f64>() - most;
        let largest = (0..rounded.len()).max_by(|a, b| rounded[*a].total_cmp(&rounded[*b]));
        if let Some(largest) = largest.filter(|_| self.0 > 0.0 && over > ROUNDING * most) {
            // Less of what there is most of changes the strength the least. What no step is
            // small enough for stays as it is: without it the rest would stand alone.
            let steps = (over / self.0 - ROUNDING).ceil();
            let fewer = rounded[largest] - steps * self.0;
            rounded[largest] = if fewer > self.0 / 2.0 { fewer } else { litres[largest] };
        }
        rounded
    }

    /// An amount that was rounded, with the digits that show its step.
    #[must_use]
    pub fn measure(self, litres: f64) -> Measure {
        /// What a person reads at a glance, and the most that any step is worth.
        const DIGITS: (f64, f64) = (3.0, 6.0);
        let needed = (litres / self.0).log10().floor() + 1.0;
        let needed = if needed.is_finite() { needed } else { DIGITS.0 };
        #[expect(clippy::cast_possible_truncation, reason = "between three and six")]
        let digits = (needed + 1.0).clamp(DIGITS.0, DIGITS.1) as i32;
        Volume::measure_of(litres).rounded(digits)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{OutOfRange, UnitSystem, measured_in};

    #[test]
    fn one_step_serves_the_smallest_and_the_largest() {
        let step = MeasuringStep::of(None, [6.23, 53.77, 0.0]);
        assert!((step.round(6.23) - 6.2).abs() < 1e-12, "{}", step.round(6.23));
        assert!((step.round(53.77) - 53.8).abs() < 1e-12, "{}", step.round(53.77));
        assert_eq!(MeasuringStep::of(None, [737.0]).round(737.0), 740.0);
    }

    #[test]
    fn whoever_reads_gallons_measures_gallons() {
        let gallon = 3.785_411_784;
        measured_in(UnitSystem::Us, || {
            let step = MeasuringStep::of(None, [1.617 * gallon, 14.383 * gallon]);
            let shown = |v: f64| step.measure(step.round(v * gallon)).show(UnitSystem::Us);
            assert_eq!(
                (shown(1.617), shown(14.383)),
                ("1.62 US gal".into(), "14.38 US gal".into())
            );
        });
    }

    #[test]
    fn rounded_amounts_never_come_to_more_than_was_asked_for() {
        let step = MeasuringStep::of(None, [6.26, 53.76]);
        let rounded = step.round_within(&[6.26, 53.76], 60.02);
        assert!((rounded[0] - 6.3).abs() < 1e-9 && (rounded[1] - 53.7).abs() < 1e-9, "{rounded:?}");
    }

    #[test]
    fn an_amount_shows_its_step() -> Result<(), OutOfRange> {
        let step = MeasuringStep::of(Some(Capacity::of(0.5)?), []);
        assert_eq!(step.measure(1234.5).to_string(), "1234.5 L");
        assert_eq!(MeasuringStep::of(None, [6.23]).measure(6.2).to_string(), "6.2 L");
        Ok(())
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
