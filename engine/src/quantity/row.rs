//! A row of the table: what there is to know about a kind of number.

use super::{UnitSystem, Units};
use crate::numerics::digits::round_to;
use crate::numerics::for_now::for_now;
use serde::de::Error as _;
use serde::{Deserialize, Deserializer, Serializer};
use std::cell::Cell;
use utoipa::openapi::extensions::ExtensionsBuilder;
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Schema};

/// Significant digits of a number that a person reads: enough to tell apart what a shop
/// can tell apart, few enough to read.
pub(super) const DIGITS: i32 = 6;

thread_local! {
    /// The units in which this thread reads numbers.
    static READ_IN: Cell<UnitSystem> = const { Cell::new(UnitSystem::Metric) };
}

/// Reads something whose numbers are in the units of `system`. Without it they are metric.
pub fn read_in<T>(system: UnitSystem, read: impl FnOnce() -> T) -> T {
    for_now(&READ_IN, system, read)
}

thread_local! {
    /// The units in which this thread writes numbers and sentences down.
    static WRITTEN_IN: Cell<UnitSystem> = const { Cell::new(UnitSystem::Metric) };
}

/// Writes something down whose numbers and sentences are to be read in `system`. Without it
/// they are written in metric units.
pub fn in_units<T>(system: UnitSystem, write: impl FnOnce() -> T) -> T {
    for_now(&WRITTEN_IN, system, write)
}

thread_local! {
    /// The units in which whoever is told something measures out.
    static MEASURED_IN: Cell<UnitSystem> = const { Cell::new(UnitSystem::Metric) };
}

/// Works something out for a person who measures in the units of `system`: the amounts that words
/// say are round ones there. Without it they are in litres. No number hangs on it.
pub fn measured_in<T>(system: UnitSystem, work: impl FnOnce() -> T) -> T {
    for_now(&MEASURED_IN, system, work)
}

/// The units in which whoever is told something measures out.
pub(crate) fn measures_in() -> UnitSystem {
    MEASURED_IN.get()
}

/// The units in which this thread writes things down.
pub(crate) fn written_in() -> UnitSystem {
    WRITTEN_IN.get()
}

/// One row of the table: what there is to know about a kind of number.
#[derive(Debug, PartialEq)]
pub struct Row {
    /// The kind's name, on the wire as `x-quantity`.
    pub name: &'static str,
    /// Its unit in both systems.
    pub units: Units,
    /// The least value, in the metric unit.
    pub least: f64,
    /// Whether `least` itself is excluded.
    pub above: bool,
    /// The greatest value, in the metric unit, included.
    pub most: f64,
    /// Whether it counts something, and so has no fractions.
    pub whole: bool,
}

impl Row {
    /// Whether a number can be right in one system of units or the other, before it is
    /// known to the last bit in which: what the published schema says of both at once.
    #[must_use]
    pub fn admits_in_either_system(&self, number: f64) -> bool {
        let (least, most) = self.bounds_in_either_system();
        let high_enough = if self.above { number > least } else { number >= least };
        high_enough && number <= most
    }

    /// Whether a number in the metric unit is finite and in range.
    #[must_use]
    pub fn admits(&self, metric: f64) -> bool {
        let high_enough = if self.above { metric > self.least } else { metric >= self.least };
        high_enough && metric <= self.most && (!self.whole || metric.fract() == 0.0)
    }

    /// The range in words, in the units of `system`: "from 0 to 100 % by volume".
    #[must_use]
    pub fn range_in_words(&self, system: UnitSystem) -> String {
        let number =
            |bound: f64| round_to(self.units.from_metric(bound, system), DIGITS).to_string();
        let unit = self.units.in_system(system).symbol;
        let from = match (self.above, self.whole) {
            (true, _) => "above",
            (false, false) => "from",
            (false, true) => "a whole number from",
        };
        let (least, most) = (number(self.least), number(self.most));
        let comma = if self.above { " and up" } else { "" };
        format!("{from} {least}{comma} to {most} {unit}").trim_end().to_owned()
    }

    /// The least and greatest number that can be right in either system, for
    /// a schema that has to speak of both at once. A `us` number is held to
    /// the exact bounds after it is rescaled.
    fn bounds_in_either_system(&self) -> (f64, f64) {
        let us = |bound| self.units.from_metric(bound, UnitSystem::Us);
        (self.least.min(us(self.least)), self.most.max(us(self.most)))
    }

    /// Writes a number that it admits, in the units of [`in_units`].
    pub(super) fn write<S: Serializer>(
        &self,
        number: f64,
        serializer: S,
    ) -> Result<S::Ok, S::Error> {
        if self.whole {
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "whole and in range, or it would not be here"
            )]
            return serializer.serialize_u64(number as u64);
        }
        serializer.serialize_f64(self.units.from_metric(number, written_in()))
    }

    /// Reads a number that it admits, in the units of [`read_in`], into the metric unit.
    pub(super) fn read<'de, D: Deserializer<'de>>(&self, deserializer: D) -> Result<f64, D::Error> {
        let given = f64::deserialize(deserializer)?;
        let system = READ_IN.get();
        let metric = self.units.to_metric(given, system);
        if self.admits(metric) && self.admits_in_either_system(given) {
            // Adding nothing turns -0.0 into 0.0.
            Ok(metric + 0.0)
        } else {
            let range = self.range_in_words(system);
            Err(D::Error::custom(format_args!("{given} is not {range}")))
        }
    }

    pub(super) fn schema(&self) -> RefOr<Schema> {
        let (least, most) = self.bounds_in_either_system();
        let object = ObjectBuilder::new()
            .schema_type(if self.whole { Type::Integer } else { Type::Number })
            .maximum(Some(most));
        let object = if self.above {
            object.exclusive_minimum(Some(least))
        } else {
            object.minimum(Some(least))
        };
        let extensions = ExtensionsBuilder::new().add("x-quantity", self.name);
        object.extensions(Some(extensions.build())).into()
    }
}
