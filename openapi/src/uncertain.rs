//! Uncertainty at the border: what a request points at, and its units.
//!
//! A standard uncertainty has the unit of the number it belongs to, which no
//! schema can say; so it crosses the unit border here, by the shape of what it
//! points at, and without the offset that a temperature itself has.

use crate::envelope::UNCERTAINTY;
use crate::flat;
use crate::problem::{Fault, Problem, ProblemKind};
use crate::shape::Shape;
use crate::tree::join;
use serde_json::{Number, Value};
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::quantity::{Row, UnitSystem};
use sumpwright_engine::text::nearest;
use sumpwright_engine::uncertainty::{Asked, Known, POINTER, Uncertainty};

/// What the paths begin with that say how sure single numbers are.
pub const NUMBERS: &str = "uncertainty.numbers.";

/// Takes what is said of uncertainty out of a document; none when nothing is.
pub(crate) fn take(document: &mut Value) -> Option<Value> {
    let given = document.as_object_mut()?.shift_remove(UNCERTAINTY)?;
    Some(given).filter(|given| !given.is_null())
}

/// Reads what is said of uncertainty in a document that is metric by now, and
/// whose numbers were given in `units`.
pub(crate) fn read(
    given: Value,
    document: &Value,
    question: &Shape,
    units: UnitSystem,
) -> Result<Asked, Problem> {
    let uncertainty: Uncertainty = serde_path_to_error::deserialize(given).map_err(|error| {
        let pointer = format!("{POINTER}{}", crate::tree::pointer(error.path()));
        let fault = Fault::new(pointer, format!("{}.", error.inner()));
        Problem::new(ProblemKind::Malformed, fault)
    })?;
    let (mut known, mut faults) = (Vec::new(), Vec::new());
    for pointer in uncertainty.inputs.keys() {
        match number_at(pointer, document, question) {
            Ok((row, estimate)) => {
                let scale = metric_per_unit(row, units);
                known.push(Known { row, estimate, scale });
            }
            Err(detail) => {
                faults.push(Fault::new(join(&format!("{POINTER}/inputs"), pointer), detail));
            }
        }
    }
    if !faults.is_empty() {
        return Err(Problem::with_faults(ProblemKind::Inconsistent, faults));
    }
    Asked::new(&uncertainty, known).map_err(|refusal| Problem::refused(&refusal, units))
}

/// The number that a pointer of the caller's points at, and its kind.
fn number_at(
    pointer: &str,
    document: &Value,
    question: &Shape,
) -> Result<(&'static Row, f64), String> {
    let Some(value) = document.pointer(pointer) else {
        return Err(not_there(pointer, document));
    };
    let Some(estimate) = value.as_f64() else {
        return Err(format!(
            "{pointer:?} points at no number of this request, and only a number has an uncertainty."
        ));
    };
    match question.at(document, pointer) {
        Some(Shape::Number(Some(row))) if !row.whole => Ok((row, estimate)),
        _ => Err(format!("{pointer:?} counts something, and a count has no uncertainty.")),
    }
}

fn not_there(pointer: &str, document: &Value) -> String {
    let numbers = flat::flatten(document).into_iter().filter(|(_, leaf)| leaf.is_number());
    let pointers: Vec<String> =
        numbers.map(|(path, _)| format!("/{}", path.replace('.', "/"))).collect();
    let meant = format!("/{}", pointer.trim_start_matches(['/', '#']).replace('.', "/"));
    let near = nearest(&meant, pointers.iter().map(String::as_str));
    let hint = match near {
        Some(near) => format!(" Did you mean {near:?}?"),
        None => " Write the names on the way to a number with a slash before each, such as \
                 \"/sump/volume\", and a list's places from 0."
            .to_owned(),
    };
    format!("This request has nothing at {pointer:?}.{hint}")
}

/// How many of the metric unit make one of the caller's.
fn metric_per_unit(row: &Row, units: UnitSystem) -> f64 {
    row.units.to_metric(1.0, units) - row.units.to_metric(0.0, units)
}

/// Brings the uncertainties of a record, whose other numbers are in `units`
/// already, to those units as well.
pub(crate) fn rescale(record: &mut Value, shape: &Shape, asked: &Asked, units: UnitSystem) {
    if units == UnitSystem::Metric {
        return;
    }
    let numbers = record[UNCERTAINTY]["numbers"].take();
    let Value::Object(mut numbers) = numbers else { return };
    for (pointer, number) in &mut numbers {
        let row = match shape.at(record, pointer) {
            Some(Shape::Number(Some(row))) => *row,
            _ => continue,
        };
        let scale = metric_per_unit(row, units);
        for name in ["value", "mean", "low", "high"] {
            change(number.get_mut(name), |metric| row.units.from_metric(metric, units));
        }
        for name in ["u", "half_width"] {
            change(number.get_mut(name), |metric| metric / scale);
        }
        let Some(first_order) = number.get_mut("first_order") else { continue };
        change(first_order.get_mut("u"), |metric| metric / scale);
        for (input, known) in asked.pointers.iter().zip(&asked.known) {
            let share = first_order["budget"].get_mut(input);
            change(share.and_then(|share| share.get_mut("sensitivity")), |metric| {
                metric * known.scale / scale
            });
        }
    }
    record[UNCERTAINTY]["numbers"] = numbers.into();
}

/// How sure each number of a record is, in words, with its path: "10.9 ± 2.2 L,
/// 95 %; 72 % of the variance is sump.volume". Numbers of which nothing is
/// uncertain are left out.
#[must_use]
pub fn in_words(record: &Value, shape: &Shape) -> Vec<(String, String)> {
    let units = crate::faults::units_of(record).unwrap_or(UnitSystem::Metric);
    let numbers =
        record.get(UNCERTAINTY).and_then(|uncertainty| uncertainty["numbers"].as_object());
    let numbers = numbers.into_iter().flatten();
    let in_words = numbers.filter_map(|(pointer, number)| {
        let unit = match shape.at(record, pointer) {
            Some(Shape::Number(Some(row))) => row.units.in_system(units).symbol,
            _ => "",
        };
        Some((path(pointer), words(number, unit)?))
    });
    in_words.collect()
}

/// One number and how sure it is. The half-width is given to two digits, and the
/// number to as many places as that has (GUM 7.2.6).
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
    // Where the interval lies to one side of the number, ± would hide it.
    let beside = (low.midpoint(high) - value).abs() > half_width / 10.0;
    let interval = if beside {
        format!("{} to {}", shown(low), shown(high))
    } else {
        format!("{} ± {}", shown(value), shown(half_width))
    };
    let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
    let largest = number.get("largest").and_then(|largest| {
        let (pointer, share) = (largest["pointer"].as_str()?, largest["share"].as_f64()?);
        Some(format!("; {share:.0} % of the variance is {}", path(pointer)))
    });
    Some(format!("{interval}{unit}, 95 %{}", largest.unwrap_or_default()))
}

/// A pointer as a path of the flat form.
fn path(pointer: &str) -> String {
    let steps = pointer.split('/').skip(1);
    let steps = steps.map(|step| step.replace("~1", "/").replace("~0", "~"));
    steps.collect::<Vec<_>>().join(".")
}

/// Changes a number where there is one.
fn change(place: Option<&mut Value>, by: impl Fn(f64) -> f64) {
    let Some(place) = place else { return };
    if let Some(changed) = place.as_f64().map(by).and_then(Number::from_f64) {
        *place = Value::Number(changed);
    }
}
