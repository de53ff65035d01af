//! A row of the table, and units in both systems.

use crate::sentence::Measure;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;
use utoipa::openapi::extensions::ExtensionsBuilder;
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Schema};

/// The system of units that governs every number of a request and its answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum UnitSystem {
    /// Litres, kilograms, millimetres, °C.
    Metric,
    /// US gallons, pounds, inches, °F.
    Us,
}

/// A unit as programs and as people write it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    /// The UCUM code (ucum.org, version 2.2), or plain text where UCUM has none.
    pub code: &'static str,
    /// The unit as a person writes it; empty for a bare number.
    pub symbol: &'static str,
}

/// A unit in both systems, and how one becomes the other:
/// `metric = (us − zero) · scale`.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Units {
    /// The unit of the engine and of `metric` callers.
    pub metric: Unit,
    /// The unit of `us` callers.
    pub us: Unit,
    /// How many of the metric unit make one US unit.
    pub scale: f64,
    /// What the US unit reads where the metric one reads nothing (32 for °F).
    pub zero: f64,
}

impl Units {
    pub(super) const fn new(metric: Unit, us: Unit, scale: f64) -> Self {
        Self { metric, us, scale, zero: 0.0 }
    }

    /// A unit that is the same in both systems.
    pub(super) const fn same(code: &'static str, symbol: &'static str) -> Self {
        let unit = Unit { code, symbol };
        Self::new(unit, unit, 1.0)
    }

    /// The unit that `system` uses.
    #[must_use]
    pub const fn in_system(&self, system: UnitSystem) -> Unit {
        match system {
            UnitSystem::Metric => self.metric,
            UnitSystem::Us => self.us,
        }
    }

    /// A number as a caller in `system` wrote it, in the engine's unit.
    #[must_use]
    pub fn to_metric(&self, number: f64, system: UnitSystem) -> f64 {
        match system {
            UnitSystem::Metric => number,
            UnitSystem::Us => (number - self.zero) * self.scale,
        }
    }

    /// A number of the engine, as a caller in `system` reads it.
    #[must_use]
    pub fn from_metric(&self, number: f64, system: UnitSystem) -> f64 {
        match system {
            UnitSystem::Metric => number,
            UnitSystem::Us => number / self.scale + self.zero,
        }
    }
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
    /// Whether a number in the metric unit is finite and in range.
    #[must_use]
    pub fn admits(&self, metric: f64) -> bool {
        let high_enough = if self.above { metric > self.least } else { metric >= self.least };
        high_enough && metric <= self.most && (!self.whole || metric.fract() == 0.0)
    }

    /// The range in words, in the units of `system`: "from 0 to 100 % by volume".
    #[must_use]
    pub fn range_in_words(&self, system: UnitSystem) -> String {
        let number = |bound: f64| Measure::bare(self.units.from_metric(bound, system)).to_string();
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

    pub(super) fn schema(&self) -> RefOr<Schema> {
        let (least, most) = self.bounds_in_either_system();
        let Units { metric, us, scale, zero } = self.units;
        let unit = serde_json::json!({
            "metric": metric.code,
            "us": us.code,
            "symbol": { "metric": metric.symbol, "us": us.symbol },
            "scale": scale,
            "zero": zero,
        });
        let object = ObjectBuilder::new()
            .schema_type(if self.whole { Type::Integer } else { Type::Number })
            .maximum(Some(most));
        let object = if self.above {
            object.exclusive_minimum(Some(least))
        } else {
            object.minimum(Some(least))
        };
        let extensions = ExtensionsBuilder::new().add("x-unit", unit).add("x-quantity", self.name);
        object.extensions(Some(extensions.build())).into()
    }
}
