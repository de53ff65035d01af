//! A question in US units, and an answer in US units compared with a metric one.

use serde_json::Value;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_openapi::flat;
use sumpwright_openapi::service::Service;

/// The same question in US units, by the units that the schema publishes.
pub(crate) fn in_us_units(service: &Service, metric: &Value) -> Value {
    let mut us = metric.clone();
    service.question.from_metric(&mut us, UnitSystem::Us);
    us["units"] = "us".into();
    us
}

/// Asserts that an answer in US units says what a metric one says.
#[track_caller]
pub(crate) fn assert_same_in_us_units(service: &Service, metric: &Value, us: &Value) {
    let mut back = us.clone();
    let faults = service.record.to_metric(&mut back, UnitSystem::Us, 1);
    assert!(faults.is_empty(), "{faults:?}");
    let (metric_leaves, us_leaves) = (flat::flatten(metric), flat::flatten(&back));
    assert_eq!(metric_leaves.len(), us_leaves.len(), "{metric:#}\n{back:#}");
    // A residual is a difference of nearly equal numbers: it is compared with the
    // throughput.
    let whole = metric_leaves.iter().filter_map(|(_, leaf)| leaf.as_f64()).fold(1.0, f64::max);
    for ((path, metric), (us_path, us)) in metric_leaves.iter().zip(&us_leaves) {
        assert_eq!(path, us_path);
        if let (Some(metric), Some(us)) = (metric.as_f64(), us.as_f64()) {
            let scale = if path.contains("residual") { whole } else { metric.abs().max(1.0) };
            assert!((metric - us).abs() <= 1e-12 * scale, "{path}: {metric} and {us}");
        } else if path.ends_with("text") || path == "statement" {
            assert_eq!(without_measures(metric), without_measures(us), "{path}");
        } else if path != "units" {
            assert_eq!(metric, us, "{path}");
        }
    }
}

/// The words of a text, without its numbers and their units.
fn without_measures(text: &Value) -> Vec<&str> {
    const UNITS: [&str; 16] = [
        "L", "kg", "kg/L", "°C", "mm", "m/h", "L/day", "L/h", "US", "gal", "gal/day", "gal/h",
        "lb", "lb/US", "°F", "ft/h",
    ];
    let words = text.as_str().expect("a text").split_whitespace();
    let words = words
        .map(|word| word.trim_matches(|c: char| matches!(c, '.' | ',' | ';' | ':' | '(' | ')')));
    let words =
        words.filter(|w| !UNITS.contains(w) && !w.starts_with(|c: char| c.is_ascii_digit()));
    // The symbol of inches is also a common English word.
    words.filter(|word| *word != "in").collect()
}
