//! What every calculation must do, written once for all of them.

mod documents;

use crate::{SERVICES, solve, spec};
use serde_json::{Value, json};
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_openapi::document::{question_name, record_name};
use sumpwright_openapi::flat;
use sumpwright_openapi::service::Service;
use sumpwright_openapi::shape::Direction;

fn example(service: &Service) -> Value {
    serde_json::from_str(service.example).expect("an example is JSON")
}

fn validator(component: &str) -> jsonschema::Validator {
    let schema = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$ref": format!("#/components/schemas/{component}"),
        "components": spec()["components"],
    });
    jsonschema::validator_for(&schema).expect("a component is a schema")
}

#[test]
fn examples_and_their_answers_fit_the_published_schema() {
    for service in SERVICES.iter() {
        let example = example(service);
        let question = validator(&question_name(service.name));
        assert!(question.is_valid(&example), "the example of {}", service.name);
        let answer = solve(service.name, &example).expect("an example is answered");
        let faults: Vec<String> = validator(&record_name(service.name))
            .iter_errors(&answer)
            .map(|error| format!("{}: {error}", error.instance_path()))
            .collect();
        assert!(faults.is_empty(), "the answer of {}: {faults:?}", service.name);
    }
}

#[test]
fn an_example_lies_beside_its_calculation_and_nowhere_else() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/../examples");
    for entry in std::fs::read_dir(folder).expect("a folder of examples") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|kind| kind == "json") {
            let name = path.file_stem().and_then(|stem| stem.to_str()).expect("a name");
            let text = std::fs::read_to_string(&path).expect("a readable example");
            let service = SERVICES.get(name).unwrap_or_else(|| panic!("{name}.json is an orphan"));
            assert_eq!(service.example, text);
        }
    }
}

/// Every member of every schema says what it is.
#[test]
fn every_member_is_described() {
    let spec = spec();
    for (name, schema) in spec["components"]["schemas"].as_object().expect("components") {
        for (member, schema) in schema["properties"].as_object().into_iter().flatten() {
            let described = schema["description"].as_str().is_some_and(|text| text.len() > 4);
            assert!(described, "{name}.{member} has no description");
        }
    }
}

/// Every number of every schema and parameter, in a list, under a name of the
/// caller's own or in a choice, says its unit and its bounds.
#[test]
fn every_number_has_a_unit_and_bounds() {
    let spec = spec();
    let mut numbers = 0;
    for kind in ["schemas", "parameters"] {
        every_number(&spec["components"][kind], kind, &mut numbers);
    }
    for (path, item) in spec["paths"].as_object().expect("paths") {
        for operation in item.as_object().expect("operations").values() {
            every_number(&operation["parameters"], path, &mut numbers);
        }
    }
    assert!(numbers > 1000, "only {numbers} numbers were found");
}

/// Numbers that have bounds and no unit: two that are no quantities, and one whose
/// unit hangs on the method of the reading, which its description tells of each.
const BARE: [&str; 3] = ["schemas/Problem/properties/status", "/digits", "reading.factor"];

fn every_number(value: &Value, place: &str, found: &mut usize) {
    match value {
        Value::Object(members) => {
            let kinds = match &value["type"] {
                Value::Array(kinds) => kinds.clone(),
                kind => vec![kind.clone()],
            };
            if kinds.contains(&json!("number")) || kinds.contains(&json!("integer")) {
                *found += 1;
                let low = value["minimum"].is_number() || value["exclusiveMinimum"].is_number();
                assert!(low && value["maximum"].is_number(), "{place} has no bounds");
                let unit = &value["x-unit"];
                let has_unit = unit["metric"].is_string() && unit["us"].is_string();
                let has_sum = unit["scale"].is_number() && unit["zero"].is_number();
                assert!(
                    has_unit && has_sum && value["x-quantity"].is_string()
                        || BARE.iter().any(|bare| place.contains(bare)),
                    "{place}: {unit}"
                );
                let text = value["description"].as_str();
                assert!(
                    text.is_none_or(|text| {
                        text.contains("Unit: ") || text.contains("Dimensionless.") || !has_unit
                    }),
                    "{place} does not say its unit"
                );
            }
            let data = ["example", "examples", "default"];
            for (name, member) in members.iter().filter(|(name, _)| !data.contains(&name.as_str()))
            {
                every_number(member, &format!("{place}/{name}"), found);
            }
        }
        Value::Array(entries) => {
            for (i, entry) in entries.iter().enumerate() {
                let name = entry["name"].as_str().map_or_else(|| i.to_string(), str::to_owned);
                every_number(entry, &format!("{place}/{name}"), found);
            }
        }
        _ => {}
    }
}

/// The same question in US units, by the units that the schema publishes.
pub(crate) fn in_us_units(service: &Service, metric: &Value) -> Value {
    let mut us = metric.clone();
    service.question.rescale(&mut us, UnitSystem::Us, Direction::Out, "", &mut Vec::new());
    us["units"] = "us".into();
    us
}

/// Asserts that an answer in US units says what a metric one says.
#[track_caller]
pub(crate) fn assert_same_in_us_units(service: &Service, metric: &Value, us: &Value) {
    let mut back = us.clone();
    let mut faults = Vec::new();
    service.record.rescale(&mut back, UnitSystem::Us, Direction::In, "", &mut faults);
    assert!(faults.is_empty(), "{faults:?}");
    let (metric_leaves, us_leaves) = (flat::flatten(metric), flat::flatten(&back));
    assert_eq!(metric_leaves.len(), us_leaves.len(), "{metric:#}\n{back:#}");
    // A residual is a difference of nearly equal numbers: what matters is how
    // it compares with what went through.
    let whole = metric_leaves.iter().filter_map(|(_, leaf)| leaf.as_f64()).fold(1.0, f64::max);
    for ((path, metric), (us_path, us)) in metric_leaves.iter().zip(&us_leaves) {
        assert_eq!(path, us_path);
        if let (Some(metric), Some(us)) = (metric.as_f64(), us.as_f64()) {
            let scale = if path.contains("residual") { whole } else { metric.abs().max(1.0) };
            assert!((metric - us).abs() <= 1e-12 * scale, "{path}: {metric} and {us}");
        } else if path.ends_with("text") {
            assert_eq!(without_measures(metric), without_measures(us), "{path}");
        } else if path != "units" {
            assert_eq!(metric, us, "{path}");
        }
    }
}

/// The words of a text, its numbers and their units taken out.
fn without_measures(text: &Value) -> Vec<&str> {
    const UNITS: [&str; 12] =
        ["L", "kg", "kg/L", "°C", "mm", "US", "gal", "gal/day", "lb", "lb/US", "°F", "L/day"];
    let words = text.as_str().expect("a text").split_whitespace();
    let words = words.map(|word| word.trim_matches(|c: char| matches!(c, '.' | ',' | ';' | ':')));
    words.filter(|w| !UNITS.contains(w) && !w.starts_with(|c: char| c.is_ascii_digit())).collect()
}

#[test]
fn us_units_get_the_same_answer() {
    for service in SERVICES.iter() {
        let example = example(service);
        let metric = solve(service.name, &example).expect("an example is answered");
        let us = solve(service.name, &in_us_units(service, &example)).expect("in US units too");
        assert_same_in_us_units(service, &metric, &us);
    }
}

/// Whatever promises a chart draws one of its example, in both systems of
/// units; whatever does not, refuses to.
#[test]
fn a_chart_that_is_promised_is_drawn() {
    for service in SERVICES.iter() {
        let drawn = service.chart(service.example.as_bytes());
        if !service.has_chart() {
            assert_eq!(drawn.expect_err("nothing to draw").status, 406, "{}", service.name);
            continue;
        }
        let chart = drawn.expect("the example is drawn").chart;
        assert!(chart.panels.iter().all(|panel| !panel.layers.is_empty()), "{}", service.name);
        let example: Value = serde_json::from_str(service.example).expect("JSON");
        let us = in_us_units(service, &example).to_string();
        let in_us = service.chart(us.as_bytes()).expect("and in US units");
        assert_eq!(in_us.chart.panels.len(), chart.panels.len(), "{}", service.name);
    }
}
