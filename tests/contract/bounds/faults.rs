//! At most a hundred faults are listed, and lists that are too long are refused without being read.

use super::example;
use crate::{SERVICES, solve, spec};
use serde_json::{Map, Value, json};
use sumpwright_openapi::problem::Problem;

fn blend_of(stocks: &[Value]) -> Value {
    let target = json!({ "volume": 1, "concentration": 5 });
    json!({ "units": "metric", "target": target, "stocks": stocks })
}

fn refused(name: &str, document: &Value) -> Problem {
    let problem = solve(name, document).expect_err("it is wrong");
    let length = serde_json::to_vec(&problem).expect("a problem is JSON").len();
    assert!(length < 50_000, "a refusal of {length} bytes");
    assert!(problem.errors.len() <= 100, "{} faults are listed", problem.errors.len());
    problem
}

#[test]
fn faults_are_listed_to_a_hundred_and_it_is_said_that_there_are_more() {
    // Malformed: every entry violates the schema.
    let problem = refused("blend", &blend_of(&vec![json!({}); 20_000]));
    assert_eq!((problem.status, problem.errors.len()), (400, 100));
    assert!(problem.detail.ends_with("(and 99 more in errors, which lists the first 100)"));
    // The only wrong entry may be the last of many.
    let stock = json!({ "name": "water", "concentration": 0 });
    let mut stocks = vec![stock; 19_999];
    stocks.push(json!({ "name": "water" }));
    let problem = refused("blend", &blend_of(&stocks));
    assert_eq!(problem.errors.len(), 1);
    assert_eq!(problem.errors[0].pointer, "/stocks/19999/concentration");
    // Refused by the engine: all have one name.
    stocks.pop();
    let problem = refused("blend", &blend_of(&stocks));
    assert_eq!((problem.status, problem.errors.len()), (422, 100));
    assert!(problem.detail.contains("lists the first 100"), "{}", problem.detail);
    // Out of range by the units of the request.
    let mut top_up = example("top-up");
    let far = json!({ "name": "far too much", "concentration": 0, "available": 2e9 });
    top_up["stocks"] = vec![far; 300].into();
    assert_eq!(refused("top-up", &top_up).errors.len(), 100);
    // A few faults are all listed.
    let problem = refused("blend", &blend_of(&vec![json!({}); 2]));
    let listed = problem.errors.len();
    assert!(problem.detail.ends_with(&format!("(and {} more in errors)", listed - 1)));
}

#[test]
fn members_that_nobody_knows_are_named_to_a_hundred() {
    let mut top_up = example("top-up");
    for i in 0..50_000 {
        top_up[format!("unknown{i}")] = json!({ "a": [1, 2, 3] });
    }
    assert_eq!(refused("top-up", &top_up).errors.len(), 100);
}

#[test]
fn a_list_or_a_map_too_long_is_one_fault() {
    let problem = refused("blend", &blend_of(&vec![json!({}); 20_001]));
    assert_eq!(problem.errors.len(), 1, "{:?}", problem.errors);
    assert_eq!(problem.errors[0].pointer, "/stocks");
    assert_eq!(problem.errors[0].detail, "This list is too long: the maximum is 20000 entries.");
    assert_eq!(problem.status, 422);

    let named = |names: usize| -> Map<String, Value> {
        (0..names).map(|i| (format!("p{i}"), json!(1))).collect()
    };
    let stock = |names| json!({ "name": "water", "concentration": 0, "properties": named(names) });
    let problem = refused("blend", &blend_of(&[stock(101)]));
    assert_eq!(problem.errors.len(), 1, "{:?}", problem.errors);
    assert_eq!(problem.errors[0].pointer, "/stocks/0/properties");

    let mut uncertain = example("top-up");
    let inputs: Map<String, Value> =
        (0..101).map(|i| (format!("/sump/volume{i}"), json!({ "u": 1 }))).collect();
    uncertain["uncertainty"] = json!({ "inputs": inputs });
    assert_eq!(refused("top-up", &uncertain).errors[0].pointer, "/uncertainty/inputs");
}

/// The limit counts all fluids together, on the quick way and on the thorough one.
#[test]
fn no_more_than_a_hundred_properties_are_followed() {
    let stock = |i: usize, from: usize, to: usize| {
        let properties: Map<String, Value> =
            (from..to).map(|p| (format!("p{p}"), json!(1))).collect();
        let concentration = if i == 0 { 0 } else { 100 };
        json!({ "name": format!("stock {i}"), "concentration": concentration,
                "properties": properties })
    };
    let answered = solve("blend", &blend_of(&[stock(0, 0, 50), stock(1, 50, 99)]));
    answered.expect("tramp oil would be the hundredth");
    let problem = refused("blend", &blend_of(&[stock(0, 0, 50), stock(1, 50, 100)]));
    assert!(problem.detail.contains("more than 100 properties"), "{}", problem.detail);
    let many: Vec<Value> = (0..2_100).map(|i| stock(i, i % 90, i % 90 + 1)).collect();
    solve("blend", &blend_of(&many)).expect("2,100 fluids in 91 properties");
    let many: Vec<Value> = (0..2_500).map(|i| stock(i, i % 90, i % 90 + 1)).collect();
    let problem = refused("blend", &blend_of(&many));
    assert!(problem.detail.contains("2500 fluids with 91 properties"), "{}", problem.detail);
}

/// What is wrong is repeated only in part where it is long, and how to correct it stays.
#[test]
fn a_name_of_megabytes_is_refused_in_a_few_words() {
    let long = "n".repeat(4_000_000);
    let mut unknown = example("top-up");
    unknown[&long] = json!(1);
    let mut inside = example("top-up");
    inside["sump"][&long] = json!({ "x": 1 });
    let mut word = example("top-up");
    word["units"] = json!(long);
    let mut property = example("forecast");
    property["sump"]["properties"][&long] = json!("not a number");
    for (name, document) in
        [("top-up", unknown), ("top-up", inside), ("top-up", word), ("forecast", property)]
    {
        let problem = refused(name, &document);
        assert_eq!(problem.status, 400);
        assert!(problem.detail.len() < 5_000, "{} bytes", problem.detail.len());
        assert!(problem.detail.ends_with(['.', '?', ')']), "{}", problem.detail);
    }
}

#[test]
fn a_document_of_too_many_values_is_not_read_to_its_end() {
    let list = format!("[{}1]", "1,".repeat(600_000));
    let document = format!("{{\"units\":\"metric\",\"stocks\":{list}, and then no JSON");
    let problem = SERVICES.get("blend").expect("blend").answer(document.as_bytes());
    let problem = problem.expect_err("it is too long");
    assert_eq!(problem.status, 413);
    assert!(problem.detail.contains("500000 values"), "{}", problem.detail);
}

/// In the spec, every map with free names has a maximum number of members.
#[test]
fn every_map_of_a_request_has_a_bound_in_the_spec() {
    fn walk(schema: &Value, spec: &Value, place: &str, seen: &mut Vec<String>) {
        match schema {
            Value::Object(members) => {
                if let Some(name) = schema["$ref"].as_str() {
                    let name = name.rsplit('/').next().expect("a name").to_owned();
                    if !seen.contains(&name) {
                        seen.push(name.clone());
                        walk(&spec["components"]["schemas"][&name], spec, &name, seen);
                    }
                }
                if members.get("additionalProperties").is_some_and(Value::is_object) {
                    assert!(schema["maxProperties"].is_u64(), "{place} has no maxProperties");
                }
                members
                    .iter()
                    .for_each(|(name, s)| walk(s, spec, &format!("{place}/{name}"), seen));
            }
            Value::Array(all) => all.iter().for_each(|schema| walk(schema, spec, place, seen)),
            _ => {}
        }
    }
    let spec = spec();
    let mut seen = Vec::new();
    for service in SERVICES.iter() {
        let body = &spec["paths"][format!("/v1/{}", service.name)]["post"]["requestBody"];
        assert!(body.is_object(), "{}", service.name);
        walk(body, &spec, service.name, &mut seen);
    }
    assert!(seen.contains(&"ContentByProperty".to_owned()), "{seen:?}");
}
