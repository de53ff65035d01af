//! A number with its kind, as a person reads it.

use super::row::DIGITS;
use super::{Row, UnitSystem};
use crate::numerics::digits::{digits_apart, write_rounded};
use std::fmt;

/// A number with its kind, to be shown in either system of units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    row: Option<&'static Row>,
    metric: f64,
    digits: i32,
}

impl Measure {
    /// A measured number in the metric unit of its kind.
    #[must_use]
    pub const fn of(row: &'static Row, metric: f64) -> Self {
        Self { row: Some(row), metric, digits: DIGITS }
    }

    /// A number without a unit.
    #[must_use]
    pub const fn bare(number: f64) -> Self {
        Self { row: None, metric: number, digits: DIGITS }
    }

    /// The same to fewer digits, for a number that is to be read and not worked with.
    #[must_use]
    pub const fn rounded(self, digits: i32) -> Self {
        Self { digits, ..self }
    }

    /// The same to as many digits as tell it from those of `others` that it is not equal to, where it reads
    /// as they do.
    #[must_use]
    pub fn apart_from(self, others: &[Self], system: UnitSystem) -> Self {
        let number = |of: &Self| match of.row {
            Some(row) => row.units.from_metric(of.metric, system),
            None => of.metric,
        };
        let reads = self.show(system);
        let alike = others.iter().filter(|other| {
            other.metric != self.metric
                && other.row.is_some() == self.row.is_some()
                && other.show(system) == reads
        });
        let apart = alike.map(|other| digits_apart(number(&self), number(other))).max();
        Self { digits: apart.unwrap_or(self.digits).max(self.digits), ..self }
    }

    /// The number and its unit as a person in `system` writes them.
    #[must_use]
    pub fn show(&self, system: UnitSystem) -> String {
        let mut shown = String::new();
        let _ = self.write(system, &mut shown);
        shown
    }

    /// The same, appended to `out`.
    pub(crate) fn write(&self, system: UnitSystem, out: &mut dyn fmt::Write) -> fmt::Result {
        let Some(row) = self.row else {
            return write_rounded(self.metric, self.digits, out);
        };
        let (number, unit) =
            (row.units.from_metric(self.metric, system), row.units.in_system(system));
        let symbol = if unit.of_one() == unit.symbol {
            write_rounded(number, self.digits, out)?;
            unit.symbol
        } else {
            let mut written = String::new();
            write_rounded(number, self.digits, &mut written)?;
            out.write_str(&written)?;
            if written == "1" { unit.of_one() } else { unit.symbol }
        };
        match symbol {
            "" => Ok(()),
            symbol => out.write_char(' ').and_then(|()| out.write_str(symbol)),
        }
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write(UnitSystem::Metric, f)
    }
}
