//! What generators of clients need of the document, so that their types keep every digit, compile beside
//! the types of their language, and name what they hold.

use crate::spec;
use serde_json::Value;
use std::collections::BTreeMap;

/// Names of one word all the same: RFC 9457 calls it a problem.
const OF_ONE_WORD: [&str; 1] = ["Problem"];

/// Shows every schema, with its place.
fn every_schema<'a>(part: &'a Value, place: &str, see: &mut impl FnMut(&str, &'a Value)) {
    match part {
        Value::Object(keywords) => {
            if ["type", "oneOf", "anyOf", "$ref"].iter().any(|word| keywords.contains_key(*word)) {
                see(place, part);
            }
            for (name, inner) in keywords {
                if !["example", "examples", "enum"].contains(&name.as_str()) {
                    every_schema(inner, &format!("{place}/{name}"), see);
                }
            }
        }
        Value::Array(entries) => {
            entries.iter().for_each(|entry| every_schema(entry, place, see));
        }
        _ => {}
    }
}

fn has_type(schema: &Value, word: &str) -> bool {
    schema["type"] == word
        || schema["type"].as_array().is_some_and(|types| types.iter().any(|one| one == word))
}

/// Go takes a number without a format for a float32, and Java for a `BigDecimal`.
#[test]
fn every_number_is_a_double() {
    let spec = spec();
    let (mut numbers, mut others) = (0, Vec::new());
    every_schema(&spec, "", &mut |place, schema| {
        if has_type(schema, "number") {
            numbers += 1;
            if schema["format"] != "double" {
                others.push(place.to_owned());
            }
        }
    });
    assert!(others.is_empty(), "{others:?}");
    assert!(numbers > 1000, "{numbers}");
}

#[test]
fn every_map_of_free_names_says_how_many_it_may_have() {
    let spec = spec();
    let (mut maps, mut others) = (0, Vec::new());
    every_schema(&spec["components"], "", &mut |place, schema| {
        if schema["additionalProperties"].is_object() {
            maps += 1;
            if schema["maxProperties"].as_u64().is_none_or(|most| most == 0) {
                others.push(place.to_owned());
            }
        }
    });
    assert!(others.is_empty(), "{others:?}");
    assert!(maps > 8, "{maps}");
}

/// A word alone is a type of many a language (`Index`, `Stream`), and Go runs a file whose name ends in `_test`.
#[test]
fn a_component_is_called_by_two_words_or_more() {
    let spec = spec();
    let schemas = spec["components"]["schemas"].as_object().expect("components");
    let single: Vec<&String> = schemas
        .keys()
        .filter(|name| name[1..].chars().all(|c| !c.is_ascii_uppercase()))
        .filter(|name| !OF_ONE_WORD.contains(&name.as_str()))
        .collect();
    assert!(single.is_empty(), "{single:?} go by one word: say #[schema(as = …)]");
    let tests: Vec<&String> = schemas.keys().filter(|name| name.ends_with("Test")).collect();
    assert!(tests.is_empty(), "{tests:?}");
    // Where capitals do not count, such as in the name of a file.
    let mut lower = BTreeMap::new();
    for name in schemas.keys() {
        let other = lower.insert(name.to_lowercase(), name);
        assert_eq!(other, None, "{name}");
    }
}

#[test]
fn what_is_required_is_a_member() {
    let spec = spec();
    let (mut required, mut others) = (0, Vec::new());
    every_schema(&spec["components"]["schemas"], "", &mut |place, schema| {
        for name in schema["required"].as_array().into_iter().flatten() {
            required += 1;
            if schema["properties"].get(name.as_str().unwrap_or_default()).is_none() {
                others.push(format!("{place}: {name}"));
            }
        }
    });
    assert!(others.is_empty(), "{others:?}");
    assert!(required > 500, "{required}");
}

/// Where the unit is the same in both systems, the bounds are those that hold.
#[test]
fn numbers_that_no_unit_touches_have_their_exact_bounds() {
    let spec = spec();
    for (member, least, most) in [
        ("ForecastQuestion/properties/days", ("exclusiveMinimum", 0.0), 3660.0),
        ("DisposalQuestion/properties/months", ("minimum", 1.0), 240.0),
        ("RequestUncertainty/properties/draws", ("minimum", 100.0), 1_000_000.0),
        ("SpreadSampling/properties/draws", ("minimum", 100.0), 1_000_000.0),
        ("DeliverySpread/properties/draws", ("minimum", 100.0), 1_000_000.0),
    ] {
        let pointer = format!("/components/schemas/{member}");
        let schema = spec.pointer(&pointer).unwrap_or_else(|| panic!("{member}"));
        assert_eq!(schema[least.0].as_f64(), Some(least.1), "{member}");
        assert_eq!(schema["maximum"].as_f64(), Some(most), "{member}");
    }
}

/// A generated client reads of each way to ask: a document, a table, documents one per line, an address.
#[test]
fn every_form_of_a_question_and_of_its_answers_is_told() {
    let spec = spec();
    let mut told = 0;
    for (path, item) in spec["paths"].as_object().expect("paths") {
        let Some(post) = item.get("post") else { continue };
        let types: Vec<&String> =
            post["requestBody"]["content"].as_object().expect("types").keys().collect();
        let all = ["application/json", "text/csv", "application/x-ndjson", "application/jsonl"];
        assert_eq!(types, all, "{path}");
        let answered = post["responses"]["200"]["$ref"].as_str().expect("a component");
        let answered = &spec.pointer(&answered[1..]).expect("it")["content"];
        for media_type in all {
            assert!(answered.get(media_type).is_some(), "{path} does not answer {media_type}");
        }
        let parameters = item["get"]["parameters"].to_string();
        assert!(parameters.contains("uncertain_inputs"), "{path}");
        let parameters = post["parameters"].to_string();
        assert!(parameters.contains("headings_in_row") && parameters.contains("columns"), "{path}");
        told += 1;
    }
    assert!(told > 15, "{told}");
}

/// A generated type of a map with free names has one type for the values of all names: what a name of its
/// own (`tramp_oil`) holds has to fit it too.
#[test]
fn a_map_has_one_kind_of_value() {
    let spec = spec();
    let followed = |schema: &Value| -> Value {
        let mut schema = schema.clone();
        loop {
            let branches = ["oneOf", "anyOf"].iter().find_map(|word| schema[*word].as_array());
            let next = match (schema["$ref"].as_str(), branches) {
                (Some(place), _) => spec.pointer(&place[1..]).cloned(),
                (None, Some(all)) => all.iter().find(|one| one["type"] != "null").cloned(),
                (None, None) => return schema,
            };
            schema = next.expect("a schema");
        }
    };
    let kind = |schema: &Value| match &schema["type"] {
        Value::Array(all) => all.iter().find(|one| *one != "null").expect("a type").clone(),
        one => one.clone(),
    };
    let mut maps = 0;
    every_schema(&spec["components"]["schemas"], "", &mut |place, schema| {
        if !schema["additionalProperties"].is_object() {
            return;
        }
        let free = followed(&schema["additionalProperties"]);
        for (name, own) in schema["properties"].as_object().into_iter().flatten() {
            let own = followed(own);
            assert_eq!(kind(&own), kind(&free), "{place}: {name}");
            for member in own["properties"].as_object().into_iter().flat_map(|all| all.keys()) {
                assert!(free["properties"].get(member).is_some(), "{place}: {name} has {member}");
            }
            maps += 1;
        }
    });
    assert!(maps > 5, "{maps}");
}
