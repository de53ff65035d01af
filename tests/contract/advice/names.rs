//! Properties that do not mix in a straight line are refused wherever they are named, in every
//! form of a question.

use crate::assert_problem;
use crate::contract::tables::{everywhere, rows, tabulate};
use crate::server::{get, post};
use crate::support::changed;
use crate::{SERVICES, solve};
use serde_json::{Value, json};
use sumpwright_engine::document::{Pointer, Shape};

/// Pointers to all places of a document that name a property.
fn named(value: &Value, shape: &Shape, pointer: &str, places: &mut Vec<String>) {
    let Some(shape) = shape.fitting(value) else { return };
    match (shape, value) {
        (Shape::PropertyName, _) => places.push(pointer.to_owned()),
        (Shape::List(entry, _), Value::Array(entries)) => {
            for (i, value) in entries.iter().enumerate() {
                named(value, entry, Pointer::from(pointer).join(&i.to_string()).as_str(), places);
            }
        }
        (shape, Value::Object(members)) => {
            for (name, value) in members {
                let at = String::from(Pointer::from(pointer).join(name));
                let of_properties = matches!(shape, Shape::Record(members, Some(_))
                    if members.iter().any(|member| member.name == "tramp_oil"));
                // Oil may have a shape that other names do not have.
                if of_properties && name != "tramp_oil" {
                    places.push(at);
                } else if let Some(shape) = shape.member(name) {
                    named(value, shape, &at, places);
                }
            }
        }
        _ => {}
    }
}

/// The document with a different name at a place, and the pointer to it.
fn renamed(document: &Value, place: &str, name: &str) -> (Value, String) {
    let mut document = document.clone();
    let (parent, last) = place.rsplit_once('/').expect("a step");
    let parent_value = document.pointer_mut(parent).expect("an object");
    if parent_value[last].is_string() {
        parent_value[last] = name.into();
        return (document, place.to_owned());
    }
    let members = parent_value.as_object_mut().expect("an object");
    let value = members.remove(last).expect("a member");
    members.insert(name.to_owned(), value);
    (document, Pointer::from(parent).join(name).into())
}

/// In every example, at every place: the pointer is that of the member, and the sentence names
/// it and the calculation to use instead.
#[test]
fn what_does_not_mix_is_refused_wherever_it_is_named() {
    let mut tried = 0;
    for service in SERVICES.iter() {
        let document: Value = serde_json::from_str(service.example).expect("JSON");
        let mut places = Vec::new();
        named(&document, &service.question, "", &mut places);
        for place in places {
            let (question, pointer) = renamed(&document, &place, "pH");
            let problem = solve(service.name, &question).expect_err("it does not mix");
            assert_eq!(problem.r#type, "/problems/inconsistent", "{place}: {problem:?}");
            assert_eq!(problem.errors[0].pointer, pointer, "{}", service.name);
            let detail = &problem.errors[0].detail;
            assert!(detail.contains("pH") && detail.contains("Measure"), "{detail}");
            tried += 1;
        }
    }
    assert!(tried > 40, "only {tried} places were found");
}

/// The request that was answered with a pH of 22.5, as a document, in US units, as an
/// address and in a table.
#[test]
fn no_way_lets_a_ph_through() {
    let mut question = json!({
        "units": "metric",
        "reference": "saw",
        "sump": { "volume": 200, "concentration": 8, "properties": { "ph": 9.2 } },
        "losses": { "evaporation": 8, "carry_off": 4 },
        "water": { "properties": { "ph": 7.5 } },
        "limits": { "ph": { "min": 8.5, "max": 9.6 } },
    });
    let pointers = ["/sump/properties/ph", "/water/properties/ph", "/limits/ph"];
    let problem = post("/v1/make-up", &question);
    let problem = assert_problem(problem, 422, "inconsistent", &pointers);
    assert_eq!(problem["reference"], "saw");
    question["units"] = "us".into();
    assert_problem(post("/v1/make-up", &question), 422, "inconsistent", &pointers);
    let address = "/v1/top-up?units=metric&sump.capacity=200&sump.volume=140&sump.concentration=6\
                   &target.concentration=8&sump.properties.Conductivity=1200";
    assert_problem(get(address), 422, "inconsistent", &["/sump/properties/Conductivity"]);

    let table =
        b"sump.capacity,sump.volume,sump.concentration,target.concentration,sump.properties.cfu\n\
                  200,140,6,8,\n200,140,6,8,100000\n";
    for units in ["metric", "us"] {
        let told = tabulate("top-up", table, &everywhere(&[("units", units)])).expect("a table");
        let rows = rows(&told, b',');
        let last =
            |row: usize| String::from_utf8_lossy(&rows[row][rows[row].len() - 1]).into_owned();
        assert_eq!(last(1), "", "{units}");
        assert!(last(2).contains("sump.properties.cfu") && last(2).contains("grow"), "{}", last(2));
    }
}

#[test]
fn spellings_and_neighbours() {
    let asked = |name: &str| {
        let question = changed("blend", |question| {
            question["stocks"][0]["properties"] = json!({ name: 5 });
            question["limits"] = json!({});
        });
        solve("blend", &question)
    };
    for name in [
        "ph",
        "PH",
        "p_h",
        "brix",
        "refractive_index",
        "Temperature",
        "fungi",
        "dipSlide",
        "bacterial_count",
        "odour",
        "smell",
        "turbidity",
        "conductivity_uS_cm",
    ] {
        assert!(asked(name).is_err(), "{name}");
    }
    for name in ["phosphate", "copper", "temporary_hardness", "nitrate", "TDS"] {
        assert!(asked(name).is_ok(), "{name}");
    }
}
