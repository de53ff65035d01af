//! Uncertainty at the border: the numbers a request points at, and their units.
//!
//! A standard uncertainty has the unit of the number it belongs to, which a
//! schema cannot say; it is converted here, by the shape of that number and
//! without the offset of a temperature.

use crate::request::envelope::{UNCERTAINTY, units_of};
use crate::request::problem::{FaultCode, Problem, RequestFault};
use crate::request::tree;
use serde_json::{Number, Value};
use sumpwright_engine::document::{Pointer, Shape};
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::uncertainty::{Asked, POINTER, Uncertainty};

/// Prefix of the paths of the uncertainties of single numbers.
pub const NUMBERS: &str = "uncertainty.numbers.";

/// Takes the member `uncertainty` out of a document, if it has one.
pub(crate) fn take(document: &mut Value) -> Option<Value> {
    let given = document.as_object_mut()?.shift_remove(UNCERTAINTY)?;
    Some(given).filter(|given| !given.is_null())
}

/// Reads the member `uncertainty` of a document that has been converted to metric and
/// whose numbers were given in `units`.
pub(crate) fn read(
    given: Value,
    document: &Value,
    question: &Shape,
    units: UnitSystem,
) -> Result<Asked, Problem> {
    let uncertainty: Uncertainty = serde_path_to_error::deserialize(given).map_err(|error| {
        let pointer = format!("{POINTER}{}", tree::pointer(error.path()));
        let fault =
            RequestFault::new(FaultCode::WrongShape, pointer, format!("{}.", error.inner()));
        Problem::new(fault)
    })?;
    Asked::new(&uncertainty, document, question, units)
        .map_err(|refusal| Problem::refused(&refusal, units))
}

/// Converts the uncertainties of a record to `units`; its other numbers are in
/// those units already.
pub(crate) fn rescale(record: &mut Value, shape: &Shape, asked: &Asked, units: UnitSystem) {
    if units == UnitSystem::Metric {
        return;
    }
    let numbers = record[UNCERTAINTY]["numbers"].take();
    let Value::Object(mut numbers) = numbers else { return };
    for (pointer, number) in &mut numbers {
        let row = match shape.at(record, &Pointer::from(pointer.as_str())) {
            Some(Shape::Number(Some(row))) => *row,
            _ => continue,
        };
        let scale = row.units.metric_per_unit(units);
        for name in ["value", "mean", "low", "high"] {
            change(number.get_mut(name), |metric| row.units.from_metric(metric, units));
        }
        for name in ["u", "half_width"] {
            change(number.get_mut(name), |metric| metric / scale);
        }
        let Some(first_order) = number.get_mut("first_order") else { continue };
        change(first_order.get_mut("u"), |metric| metric / scale);
        for (input, row) in asked.pointers.iter().zip(&asked.rows) {
            let share = first_order["budget"].get_mut(input);
            change(share.and_then(|share| share.get_mut("sensitivity")), |metric| {
                metric * row.units.metric_per_unit(units) / scale
            });
        }
    }
    record[UNCERTAINTY]["numbers"] = numbers.into();
}

/// The uncertainty of each number of a record in words, with the number's path: "10.9 ± 2.2 L,
/// 95 %; 72 % of the variance is sump.volume". Numbers without uncertainty are
/// left out.
#[must_use]
pub fn in_words(record: &Value, shape: &Shape) -> Vec<(String, String)> {
    let units = units_of(record).unwrap_or(UnitSystem::Metric);
    let numbers =
        record.get(UNCERTAINTY).and_then(|uncertainty| uncertainty["numbers"].as_object());
    let numbers = numbers.into_iter().flatten();
    let in_words = numbers.filter_map(|(pointer, number)| {
        let unit = match shape.at(record, &Pointer::from(pointer.as_str())) {
            Some(Shape::Number(Some(row))) => row.units.in_system(units).symbol,
            _ => "",
        };
        Some((Pointer::from(pointer.as_str()).path(), words(number, unit)?))
    });
    in_words.collect()
}

/// One number with its uncertainty. The half-width is given to two digits, and the
/// number to as many decimal places as the half-width (GUM 7.2.6).
fn words(number: &Value, unit: &str) -> Option<String> {
    let part = |name: &str| number.get(name)?.as_f64();
    let half_width = part("half_width").filter(|half_width| *half_width > 0.0)?;
    let (value, low, high) = (part("value")?, part("low")?, part("high")?);
    #[expect(clippy::cast_possible_truncation, reason = "the exponent of an f64 is small")]
    let last = round_to(half_width, 2).log10().floor() as i32 - 1;
    let places = usize::try_from(-last).unwrap_or(0);
    let shown = |x: f64| {
        let rounded =
            if last > 0 { (x / 10_f64.powi(last)).round() * 10_f64.powi(last) } else { x };
        format!("{rounded:.places$}")
    };
    // ± would hide that the interval lies to one side of the number.
    let beside = (low.midpoint(high) - value).abs() > half_width / 10.0;
    let interval = if beside {
        format!("{} to {}", shown(low), shown(high))
    } else {
        format!("{} ± {}", shown(value), shown(half_width))
    };
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    let largest = number.get("largest").and_then(|largest| {
        let (pointer, share) = (largest["pointer"].as_str()?, largest["share"].as_f64()?);
        Some(format!("; {share:.0} % of the variance is {}", Pointer::from(pointer).path()))
    });
    Some(format!("{interval}{unit}, 95 %{}", largest.unwrap_or_default()))
}

/// Changes a number where there is one.
fn change(place: Option<&mut Value>, by: impl Fn(f64) -> f64) {
    let Some(place) = place else { return };
    if let Some(changed) = place.as_f64().map(by).and_then(Number::from_f64) {
        *place = Value::Number(changed);
    }
}
