//! A sentence for a person, with its measured numbers kept as data.
//!
//! The engine does not know in which units the caller thinks, so it does not
//! write numbers into text. It hands over a template and the measures; the
//! border renders them in the caller's units.

use crate::quantity::{Row, UnitSystem};
use std::borrow::Cow;
use std::fmt;

/// A number with its kind, to be shown in either system of units.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Measure {
    row: Option<&'static Row>,
    metric: f64,
}

impl Measure {
    /// A measured number in the metric unit of its kind.
    #[must_use]
    pub const fn of(row: &'static Row, metric: f64) -> Self {
        Self { row: Some(row), metric }
    }

    /// A number without a unit.
    #[must_use]
    pub const fn bare(number: f64) -> Self {
        Self { row: None, metric: number }
    }

    /// The number and its unit as a person in `system` writes them.
    #[must_use]
    pub fn show(&self, system: UnitSystem) -> String {
        let Some(row) = self.row else {
            return six_digits(self.metric);
        };
        let number = six_digits(row.units.from_metric(self.metric, system));
        format!("{number} {}", row.units.in_system(system).symbol).trim_end().to_owned()
    }
}

impl fmt::Display for Measure {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.show(UnitSystem::Metric))
    }
}

/// Six significant digits without trailing zeros: enough to tell apart what a
/// shop can tell apart, few enough to read.
fn six_digits(number: f64) -> String {
    round_to(number, 6).to_string()
}

/// `number` rounded to so many significant digits, free of binary noise.
#[must_use]
pub fn round_to(number: f64, digits: i32) -> f64 {
    if number == 0.0 || !number.is_finite() {
        return number;
    }
    #[expect(clippy::cast_possible_truncation, reason = "the exponent of an f64 is small")]
    let exponent = number.abs().log10().floor() as i32;
    let places = digits - 1 - exponent;
    // A power of ten up to 22 is exact, and so one division rounds correctly;
    // beyond that the last bit is not worth a thought.
    if places >= 0 {
        let scale = 10_f64.powi(places);
        let rounded = (number * scale).round() / scale;
        if rounded.is_finite() { rounded } else { number }
    } else {
        let scale = 10_f64.powi(-places);
        (number / scale).round() * scale
    }
}

/// A template with a `{}` for each measure.
#[derive(Debug, Clone, PartialEq)]
pub struct Sentence {
    template: Cow<'static, str>,
    measures: Vec<Measure>,
}

impl Sentence {
    /// A sentence of words alone, or a template to which measures are added.
    pub fn new(template: impl Into<Cow<'static, str>>) -> Self {
        Self { template: template.into(), measures: Vec::new() }
    }

    /// Fills the next `{}`.
    #[must_use]
    pub fn with(mut self, measure: Measure) -> Self {
        self.measures.push(measure);
        self
    }

    /// The sentence with words before it that say what it is about.
    #[must_use]
    pub fn about(mut self, subject: &str) -> Self {
        let subject = subject.replace("{}", "{ }");
        self.template = format!("{subject}: {}", self.template).into();
        self
    }

    /// The sentence as a person in `system` reads it.
    #[must_use]
    pub fn show(&self, system: UnitSystem) -> String {
        let mut measures = self.measures.iter();
        let mut parts = self.template.split("{}");
        let mut text = parts.next().unwrap_or_default().to_owned();
        for part in parts {
            text.push_str(&measures.next().map(|m| m.show(system)).unwrap_or_default());
            text.push_str(part);
        }
        text
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Quantity, Volume};

    #[test]
    fn rounding_leaves_no_binary_noise() {
        assert_eq!(round_to(11.0 - 10.8, 12), 0.2);
        assert_eq!(round_to(53.800000000000004, 6), 53.8);
        assert_eq!(round_to(19.999999999999996, 4), 20.0);
        assert_eq!(round_to(-0.000123456, 3), -0.000123);
        assert_eq!(round_to(378541.1784, 4), 378500.0);
        assert_eq!(round_to(0.0, 4), 0.0);
    }

    #[test]
    fn the_same_sentence_speaks_both_systems() {
        let sentence = Sentence::new("It holds {}.").with(Measure::of(Volume::ROW, 378.5411784));
        assert_eq!(sentence.show(UnitSystem::Metric), "It holds 378.541 L.");
        assert_eq!(sentence.show(UnitSystem::Us), "It holds 100 US gal.");
    }
}
