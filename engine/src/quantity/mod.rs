//! The table of numbers: every number that crosses the wire knows its unit and its range.
//!
//! One row of the table gives a newtype, the check on the way in, the words of
//! the error, the schema's bounds and units, and what a caller in US units
//! sends instead. Kinds that a shop confuses (% by volume, °Brix, mg/L) are
//! different types, so that the compiler keeps them apart.
//!
//! A document is read in the caller's units, each number by its row ([`read_in`]), and an answer
//! written in them ([`in_units`]): what is read is metric, whatever it was written in.
//!
//! The engine itself is metric. A calculation unwraps its quantities to `f64`
//! named by the symbols of its equations and wraps its results once, at the
//! end, with [`Quantity::of`].

mod kinds;
mod measure;
mod row;
mod units;

pub use kinds::*;
pub use measure::Measure;
pub use row::{Row, in_units, measured_in, read_in};
pub(crate) use row::{measures_in, written_in};
pub use units::{KILOGRAMS_PER_POUND, LITRES_PER_US_GALLON, Unit, UnitSystem, Units};

/// A number of a known kind: finite, in range, in the engine's metric unit.
pub trait Quantity: Copy {
    /// The kind's row of the table.
    const ROW: &'static Row;

    /// The bare number, in the metric unit.
    fn get(self) -> f64;

    /// Wraps a computed number that is finite and within its kind's range.
    fn of(metric: f64) -> Result<Self, OutOfRange>;

    /// The number with its unit, for a sentence.
    fn measure(self) -> Measure {
        Self::measure_of(self.get())
    }

    /// The number with its unit to three significant digits, as a person says it.
    fn roughly(self) -> Measure {
        self.measure().rounded(3)
    }

    /// The measure of a number that is computed on the way and never answered.
    #[must_use]
    fn measure_of(metric: f64) -> Measure {
        Measure::of(Self::ROW, metric)
    }
}

/// A computed number that its kind does not admit: not finite, or out of range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OutOfRange {
    /// The row of its kind.
    pub row: &'static Row,
    /// The number, in the metric unit.
    pub metric: f64,
}

impl Count {
    /// As many as that.
    #[expect(clippy::cast_precision_loss, reason = "beyond 2^53 it is out of range anyway")]
    pub fn from_usize(things: usize) -> Result<Self, OutOfRange> {
        Self::of(things as f64)
    }
}

/// Counts as a program counts.
macro_rules! counted {
    ($($name:ident),*) => {$(
        impl $name {
            /// As many as that, to count with.
            #[must_use]
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole, not negative and at most 1e9 by its row"
            )]
            pub fn whole(self) -> usize {
                self.get() as usize
            }
        }
    )*};
}

counted!(Count, DrawCount, MonthsAhead);

/// Per cent as a fraction of one, and back.
macro_rules! per_cent {
    ($($name:ident),*) => {$(
        impl $name {
            /// The same as a fraction of one.
            #[must_use]
            pub fn fraction(self) -> f64 {
                self.get() / 100.0
            }

            /// A fraction of one in per cent.
            pub fn of_fraction(fraction: f64) -> Result<Self, OutOfRange> {
                Self::of(fraction * 100.0)
            }

            /// A fraction of one in per cent, for a sentence.
            #[must_use]
            pub fn measure_of_fraction(fraction: f64) -> Measure {
                Self::measure_of(fraction * 100.0)
            }
        }
    )*};
}

per_cent!(Share, Concentration, AnnualRate, VarianceShare);

#[cfg(test)]
mod tests {
    use super::units::*;
    use super::*;

    #[test]
    fn unit_factors_are_the_published_ones() {
        // NIST SP 811: 1 US gallon = 231 in³ with 1 in = 25.4 mm; 1 lb exact.
        let cubic_inch_in_litres = 0.254_f64.powi(3);
        assert!((LITRES_PER_US_GALLON - 231.0 * cubic_inch_in_litres).abs() < 1e-15);
        assert_eq!(VOLUME.to_metric(1.0, UnitSystem::Us), 3.785411784);
        assert_eq!(MASS.to_metric(1.0, UnitSystem::Us), 0.45359237);
        assert_eq!(TEMPERATURE.to_metric(212.0, UnitSystem::Us), 100.0);
        assert_eq!(TEMPERATURE.from_metric(20.0, UnitSystem::Us), 68.0);
    }

    #[test]
    fn a_quantity_is_finite_and_in_range() {
        for bad in [f64::NAN, f64::INFINITY, -1e-12, 100.000001] {
            assert!(Concentration::of(bad).is_err(), "{bad} passed");
        }
        assert!(Capacity::of(0.0).is_err());
        assert!(Volume::of(0.0).is_ok());
    }
}
