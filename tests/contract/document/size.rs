//! The document stays small: nothing stands twice where a reference would do.

use crate::{SERVICES, spec};
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};

/// Generators, browsers and reviewers read all of it: so much for each calculation, and once more
/// for what all share. Thousands of them say that a number is a double, how many names a map has
/// at most, and what may be null, without which generators read numbers short or refuse nulls.
const BYTES_EACH: usize = 64_000;

#[test]
fn it_is_short_and_its_lines_are() {
    let text = &SERVICES.openapi;
    let most = (SERVICES.iter().count() + 1) * BYTES_EACH;
    assert!(text.len() <= most, "{} bytes of {most}", text.len());
    let lines = text.lines().count();
    assert!(text.len() < 60 * lines, "{lines} lines are too few to be held against each other");
}

/// Parameters and answers that are alike in two places, but for references themselves.
#[test]
fn no_parameter_and_no_response_stands_twice() {
    let spec = spec();
    let mut seen = BTreeMap::new();
    let mut look = |place: &str, part: &Value| {
        if part.get("$ref").is_none() {
            let known = seen.insert(part.to_string(), place.to_owned());
            assert_eq!(known, None, "{place} stands twice: {part}");
        }
    };
    for (kind, holder) in [("parameters", "parameters"), ("responses", "responses")] {
        for (name, part) in spec["components"][kind].as_object().expect("components") {
            look(&format!("{holder} {name}"), part);
        }
    }
    for (path, item) in spec["paths"].as_object().expect("paths") {
        for (method, operation) in item.as_object().expect("operations") {
            let place = format!("{method} {path}");
            operation["parameters"].as_array().into_iter().flatten().for_each(|part| {
                look(&place, part);
            });
            operation["responses"].as_object().into_iter().flatten().for_each(|(_, part)| {
                look(&place, part);
            });
        }
    }
    assert!(seen.len() > 300, "{} were seen", seen.len());
}

/// A description beside a reference says what the one of the component does not, and a
/// member that may be null says it once.
#[test]
fn no_description_stands_twice_where_a_reference_would_do() {
    let spec = spec();
    let mut beside = 0;
    look_beside_references(&spec, &spec["components"]["schemas"], &mut beside);
    assert!(beside > 100, "{beside} references have a description");
}

fn look_beside_references(spec: &Value, part: &Value, beside: &mut usize) {
    if let (Some(reference), Some(own)) = (part["$ref"].as_str(), part.get("description")) {
        let there = spec.pointer(&reference[1..]).expect("what is referred to");
        assert_ne!(Some(own), there.get("description"), "{reference}");
        *beside += 1;
    }
    if let (Some(branches), Some(own)) = (part["oneOf"].as_array(), part.get("description")) {
        let again = branches.iter().find(|branch| branch.get("description") == Some(own));
        assert_eq!(again, None, "{own}");
    }
    match part {
        Value::Object(members) => {
            members.values().for_each(|member| look_beside_references(spec, member, beside));
        }
        Value::Array(entries) => {
            entries.iter().for_each(|entry| look_beside_references(spec, entry, beside));
        }
        _ => {}
    }
}

/// The units of a kind of quantity stand once, for each kind that is named and no other.
#[test]
fn each_kind_of_quantity_that_is_named_has_its_units_once() {
    let spec = spec();
    let units = spec["x-quantities"].as_object().expect("kinds");
    let mut named = BTreeSet::new();
    note_quantities(&spec["paths"], units, &mut named);
    note_quantities(&spec["components"], units, &mut named);
    assert_eq!(named, units.keys().map(String::as_str).collect());
    for (name, unit) in units {
        for system in ["metric", "us"] {
            assert!(unit[system].as_str().is_some_and(|code| !code.is_empty()), "{name}");
            assert!(unit["symbol"][system].is_string(), "{name}");
        }
        assert!(unit["scale"].as_f64().is_some_and(|scale| scale > 0.0), "{name}");
        assert!(unit["zero"].is_number(), "{name}");
    }
    // NIST SP 811, exact: the US gallon in litres, and the freezing point of water in °F.
    assert_eq!(units["Volume"]["scale"], 3.785411784);
    assert_eq!(units["Temperature"]["zero"], 32.0);
}

/// Notes the kinds of quantity below `part`; each number has the codes of its kind's units.
fn note_quantities<'a>(part: &'a Value, units: &Map<String, Value>, named: &mut BTreeSet<&'a str>) {
    match part {
        Value::Object(members) => {
            if let Some(kind) = members.get("x-quantity").and_then(Value::as_str) {
                let codes = ["metric", "us"].map(|system| &members["x-unit"][system]);
                assert_eq!(codes, ["metric", "us"].map(|system| &units[kind][system]), "{kind}");
                named.insert(kind);
            }
            members.values().for_each(|member| note_quantities(member, units, named));
        }
        Value::Array(entries) => {
            entries.iter().for_each(|entry| note_quantities(entry, units, named));
        }
        _ => {}
    }
}
