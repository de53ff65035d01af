//! A hardness with its unit, wherever another question takes a property of water.

use crate::server::{get, post, request};
use crate::support::{assert_problem, example};
use crate::{assert_near, number, solve};
use reqwest::blocking::Response;
use serde_json::{Value, json};

/// Twelve German degrees, by the definition: 12 · 17.847992 mg/L as CaCO3.
const TWELVE_DEGREES: f64 = 214.175_904;

/// Where each question takes a water, and whether its example has it there.
const WATERS: [(&str, &str); 6] = [
    ("make-up", "/water"),
    ("make-up", "/deionised"),
    ("fluid-loop", "/water"),
    ("blend", "/stocks/2"),
    ("top-up", "/stocks/1"),
    ("recycler", "/stocks/1"),
];

fn water<'a>(question: &'a mut Value, at: &str) -> &'a mut serde_json::Map<String, Value> {
    let place = question.pointer_mut(at).unwrap_or_else(|| panic!("no {at}"));
    place.as_object_mut().expect("a water")
}

/// The same water with the hardness in milligrams, and in the unit that it was measured in.
fn both(name: &str, at: &str, measured: &Value, milligrams: f64) -> (Value, Value) {
    let mut plain = example(name);
    if name == "top-up" {
        plain["stocks"] = json!([
            { "name": "concentrate", "concentration": 100 },
            { "name": "town water", "concentration": 0 },
        ]);
    }
    if plain.pointer(at).is_none() {
        let (above, member) = at.rsplit_once('/').expect("a member");
        if let Some(place) = plain.pointer_mut(above).and_then(Value::as_object_mut) {
            place.insert(member.to_owned(), json!({}));
        }
    }
    let own = water(&mut plain, at);
    let properties = own.entry("properties").or_insert_with(|| json!({}));
    properties["hardness"] = milligrams.into();
    let mut asked = plain.clone();
    let own = water(&mut asked, at);
    own["properties"].as_object_mut().expect("properties").remove("hardness");
    own.insert("hardness".to_owned(), measured.clone());
    (plain, asked)
}

#[track_caller]
fn alike(one: &Value, other: &Value, at: &str) {
    match (one, other) {
        (Value::Number(one), Value::Number(other)) => {
            let (one, other) = (one.as_f64().expect("one"), other.as_f64().expect("one"));
            assert!((one - other).abs() <= 1e-6 * one.abs().max(1.0), "{at}: {one} {other}");
        }
        (Value::Object(one), Value::Object(other)) => {
            assert_eq!(one.keys().collect::<Vec<_>>(), other.keys().collect::<Vec<_>>(), "{at}");
            for (name, value) in one {
                alike(value, &other[name], &format!("{at}/{name}"));
            }
        }
        (Value::Array(one), Value::Array(other)) => {
            assert_eq!(one.len(), other.len(), "{at}");
            for (i, (one, other)) in one.iter().zip(other).enumerate() {
                alike(one, other, &format!("{at}/{i}"));
            }
        }
        _ => assert_eq!(one, other, "{at}"),
    }
}

/// Of the same water the answer is the same, to the digits of the definitions; in both systems of
/// units, since a degree is a degree in both.
#[test]
fn a_hardness_is_taken_in_its_unit() {
    let degrees = json!({ "value": 12, "unit": "german_degrees" });
    for (name, at) in WATERS {
        let (plain, asked) = both(name, at, &degrees, TWELVE_DEGREES);
        let expected = solve(name, &plain).unwrap_or_else(|problem| panic!("{name}: {problem:?}"));
        let record = solve(name, &asked).unwrap_or_else(|problem| panic!("{name}: {problem:?}"));
        alike(&expected["answer"], &record["answer"], name);
    }
}

/// Every unit of the definitions (NIST SP 811 and molar masses of CaCO3 and CaO): 200 mg/L.
#[test]
fn every_unit_comes_to_the_same() {
    for (value, unit) in [
        (200.0, "mg_per_litre"),
        (200.0 / 17.847_992, "german_degrees"),
        (20.0, "french_degrees"),
        (200.0 / 14.253_768, "english_degrees"),
        (200.0 / 17.118_061, "grains_per_us_gallon"),
        (200.0 / 100.0869, "millimoles_per_litre"),
    ] {
        let question = json!({
            "units": "metric",
            "sump": { "volume": 180, "concentration": 8 },
            "losses": { "evaporation": 6, "carry_off": 3 },
            "water": { "hardness": { "value": value, "unit": unit } },
        });
        let record = solve("make-up", &question).expect("an answer");
        // Three cycles of it.
        assert_near(number(&record, "/answer/properties/hardness/settles_at"), 600.0, 1e-4);
    }
}

/// A forecast fed with water by its degrees says when the hardness is too high.
#[test]
fn a_forecast_follows_it() {
    let question = |water: Value| {
        let mut question = example("forecast");
        question["feeding"]["with"] = json!({
            "kind": "water_and_concentrate", "target": 7.5, "water": water,
        });
        solve("forecast", &question).expect("an answer")["answer"].take()
    };
    let by_degrees = question(json!({ "hardness": { "value": 12, "unit": "german_degrees" } }));
    let plain = question(json!({ "properties": { "hardness": TWELVE_DEGREES } }));
    alike(&plain, &by_degrees, "forecast");
    let passes = by_degrees["crossings"].as_array().expect("a list");
    assert!(passes.iter().any(|crossing| crossing["what"] == "hardness"), "{by_degrees:#}");
}

/// In an address, in a table, and with an uncertainty.
#[test]
fn every_form_takes_it() {
    let around = "units=metric&sump.volume=180&sump.concentration=8&losses.evaporation=6\
                  &losses.carry_off=3&pick=answer.properties.hardness.settles_at";
    let address =
        format!("/v1/make-up?{around}&water.hardness.value=10&water.hardness.unit=french_degrees");
    let cell = get(&address).text().expect("a cell");
    assert_near(cell.parse().expect("a number"), 300.0, 1e-9);
    let table = "sump.volume,sump.concentration,losses.evaporation,losses.carry_off,\
                 water.hardness.value,water.hardness.unit\n180,8,6,3,10,french degrees\n";
    let columns = "answer.properties.hardness.settles_at";
    let answered = request("POST", &format!("/v1/make-up?units=metric&columns={columns}"))
        .header("content-type", "text/csv")
        .body(table)
        .send()
        .and_then(Response::text)
        .expect("a table");
    assert!(answered.lines().nth(1).expect("a row").contains("300"), "{answered}");
    let uncertain = json!({
        "units": "metric",
        "sump": { "volume": 180, "concentration": 8 },
        "losses": { "evaporation": 6, "carry_off": 3 },
        "water": { "hardness": { "value": 10, "unit": "french_degrees" } },
        "uncertainty": { "inputs": { "/water/hardness/value": { "u": 0.5 } } },
    });
    let record: Value = post("/v1/make-up", &uncertain).json().expect("JSON");
    assert!(record["answer"].is_object(), "{record:#}");
}

#[test]
fn a_hardness_is_given_once_and_can_be() {
    for (name, at) in WATERS {
        let degrees = json!({ "value": 12, "unit": "german_degrees" });
        let (_, mut asked) = both(name, at, &degrees, 200.0);
        water(&mut asked, at)["properties"]["hardness"] = 200.into();
        let pointer = format!("{at}/properties/hardness");
        assert_problem(post(&format!("/v1/{name}"), &asked), 422, "inconsistent", &[&pointer]);
        let too_much = json!({ "value": 1e6, "unit": "german_degrees" });
        let (_, asked) = both(name, at, &too_much, 200.0);
        let pointer = format!("{at}/hardness/value");
        assert_problem(post(&format!("/v1/{name}"), &asked), 422, "inconsistent", &[&pointer]);
    }
}
