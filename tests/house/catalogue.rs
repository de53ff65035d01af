//! Rules that every calculation in the catalogue must follow.

use crate::support::units::in_us_units;
use crate::support::{example, validator};
use crate::{SERVICES, solve, spec};
use serde_json::{Value, json};
use sumpwright_engine::picture::Picture;
use sumpwright_openapi::document::{question_name, record_name};

#[test]
fn examples_and_their_answers_fit_the_published_schema() {
    for service in SERVICES.iter() {
        let example = example(service.name);
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

/// Every member of every schema has a description, or refers to a component that has one.
#[test]
fn every_member_is_described() {
    let spec = spec();
    for (name, schema) in spec["components"]["schemas"].as_object().expect("components") {
        for (member, schema) in schema["properties"].as_object().into_iter().flatten() {
            let referred = schema["$ref"].as_str().and_then(|name| spec.pointer(&name[1..]));
            let said = schema.get("description").or(referred.map(|there| &there["description"]));
            let described = said.and_then(Value::as_str).is_some_and(|text| text.len() > 4);
            assert!(described, "{name}.{member} has no description");
        }
    }
}

/// Every number of every schema and parameter, in a list, under a name chosen by the
/// caller or in a choice, has its unit and its bounds.
#[test]
fn every_number_has_a_unit_and_bounds() {
    let spec = spec();
    let units = &spec["x-quantities"];
    let mut numbers = 0;
    for kind in ["schemas", "parameters"] {
        every_number(&spec["components"][kind], kind, units, &mut numbers);
    }
    for (path, item) in spec["paths"].as_object().expect("paths") {
        for operation in item.as_object().expect("operations").values() {
            every_number(&operation["parameters"], path, units, &mut numbers);
        }
    }
    assert!(numbers > 1000, "only {numbers} numbers were found");
}

/// Numbers that have bounds and no unit: three that are not quantities, and one whose
/// unit depends on the method of the reading; its description gives the unit of each.
const BARE: [&str; 5] = [
    "schemas/Problem/properties/status",
    "/digits",
    "parameters/width/",
    "parameters/headings_in_row/",
    "reading.factor",
];

fn every_number(value: &Value, place: &str, units: &Value, found: &mut usize) {
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
                let unit = &units[value["x-quantity"].as_str().unwrap_or_default()];
                let has_unit = unit["metric"].is_string() && unit["us"].is_string();
                let has_sum = unit["scale"].is_number() && unit["zero"].is_number();
                assert!(
                    has_unit && has_sum || BARE.iter().any(|bare| place.contains(bare)),
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
                every_number(member, &format!("{place}/{name}"), units, found);
            }
        }
        Value::Array(entries) => {
            for (i, entry) in entries.iter().enumerate() {
                let name = entry["name"].as_str().map_or_else(|| i.to_string(), str::to_owned);
                every_number(entry, &format!("{place}/{name}"), units, found);
            }
        }
        _ => {}
    }
}

/// Every calculation with pictures draws its example, in both systems of units; every other
/// refuses to.
#[test]
fn pictures_that_are_promised_are_drawn() {
    for service in SERVICES.iter() {
        let drawn = service.pictures(service.example.as_bytes());
        if !service.has_pictures() {
            assert_eq!(drawn.expect_err("nothing to draw").status, 406, "{}", service.name);
            continue;
        }
        let metric = drawn.expect("the example is drawn").pictures;
        assert!(!metric.is_empty(), "{}", service.name);
        let example: Value = serde_json::from_str(service.example).expect("JSON");
        let us = in_us_units(service, &example).to_string();
        let in_us = service.pictures(us.as_bytes()).expect("and in US units").pictures;
        let titles = |pictures: &[Picture]| -> Vec<String> {
            pictures.iter().map(|picture| picture.title.to_string()).collect()
        };
        assert_eq!(titles(&in_us), titles(&metric), "{}", service.name);
    }
}
