//! Losses given by what they come from, wherever a question asks for them.

use crate::server::post;
use crate::support::assert_problem;
use crate::{SERVICES, solve};
use serde_json::{Value, json};

/// The places of losses in a document: of every object that has both rates.
fn places(document: &Value, at: &str, found: &mut Vec<String>) {
    match document {
        Value::Object(members) => {
            if members.contains_key("evaporation") && members.contains_key("carry_off") {
                found.push(at.to_owned());
            }
            for (name, member) in members {
                places(member, &format!("{at}/{name}"), found);
            }
        }
        Value::Array(entries) => {
            for (i, entry) in entries.iter().enumerate() {
                places(entry, &format!("{at}/{i}"), found);
            }
        }
        _ => {}
    }
}

/// Each calculation whose example has losses, with a place of them.
fn with_losses() -> Vec<(&'static str, Value, String)> {
    let mut found = Vec::new();
    for service in SERVICES.iter() {
        let mut example: Value = serde_json::from_str(service.example).expect("JSON");
        if service.name == "top-up" {
            example["losses"] = json!({ "evaporation": 5, "carry_off": 3 });
        }
        let mut at = Vec::new();
        places(&example, "", &mut at);
        if let Some(at) = at.into_iter().next() {
            found.push((service.name, example, at));
        }
    }
    found
}

/// Chips whose fluid comes to the same as the rate give the same answer, and it says how.
#[test]
fn chips_stand_for_what_they_carry_off() {
    let all = with_losses();
    assert!(all.len() >= 8, "{}", all.len());
    for (name, example, at) in all {
        let expected = solve(name, &example).expect("the example is answered");
        let mut by_chips = example.clone();
        let losses = by_chips.pointer_mut(&at).and_then(Value::as_object_mut).expect("losses");
        let carried = losses.remove("carry_off").expect("a rate");
        // Half of the wet mass is fluid of 0.5 kg/L: as many litres as there are kilograms.
        losses.insert(
            "chips".to_owned(),
            json!({ "mass_per_day": carried, "weighed": "wet", "fluid_share": 50, "density": 0.5 }),
        );
        let record = solve(name, &by_chips).expect("chips are an answer");
        assert_eq!(record["answer"], expected["answer"], "{name}");
        let assumptions = record["assumptions"].as_array().expect("assumptions");
        let pointer = format!("{at}/carry_off");
        let said = assumptions.iter().filter(|one| {
            one["pointer"] == pointer.as_str()
                && one["text"]
                    .as_str()
                    .is_some_and(|text| text.contains("by the mass of the chips"))
        });
        assert_eq!(said.count(), 1, "{name}: {pointer}");
    }
}

/// An open surface is an estimate, and every answer that rests on it says so.
#[test]
fn an_open_surface_is_an_estimate_and_said_to_be_one() {
    for (name, example, at) in with_losses() {
        let mut by_surface = example.clone();
        let losses = by_surface.pointer_mut(&at).and_then(Value::as_object_mut).expect("losses");
        losses.remove("evaporation");
        let surface = json!({
            "area": 1.5, "temperature": 29, "air_temperature": 21, "humidity": 55, "air_speed": 0.1,
        });
        losses.insert("surface".to_owned(), surface);
        let record =
            solve(name, &by_surface).unwrap_or_else(|problem| panic!("{name}: {problem:?}"));
        let said = record["assumptions"].to_string();
        assert!(said.contains("an estimate, never a measurement"), "{name}: {said}");
        assert!(said.contains("differ by 15 %"), "{name}: {said}");
        assert!(said.contains("no uncertainty of the numbers given covers that"), "{name}");
    }
}

/// Losses that nothing says, or that are said twice, are refused at their place.
#[test]
fn losses_are_given_once() {
    for (name, example, at) in with_losses() {
        let asked = |change: &dyn Fn(&mut serde_json::Map<String, Value>)| {
            let mut question = example.clone();
            change(question.pointer_mut(&at).and_then(Value::as_object_mut).expect("losses"));
            post(&format!("/v1/{name}"), &question)
        };
        let missing = asked(&|losses| drop(losses.remove("carry_off")));
        assert_problem(missing, 422, "not-identifiable", &[&format!("{at}/carry_off")]);
        let twice = asked(&|losses| {
            let surface =
                json!({ "area": 1, "temperature": 30, "air_temperature": 20, "humidity": 50 });
            losses.insert("surface".to_owned(), surface);
        });
        assert_problem(twice, 422, "inconsistent", &[&format!("{at}/surface")]);
        let soaked = asked(&|losses| {
            losses.remove("carry_off");
            let chips = json!({ "mass_per_day": 60, "weighed": "dry", "fluid_share": 99 });
            losses.insert("chips".to_owned(), chips);
        });
        assert_problem(soaked, 422, "inconsistent", &[&format!("{at}/chips/fluid_share")]);
        let steam = asked(&|losses| {
            losses.remove("evaporation");
            let surface =
                json!({ "area": 1, "temperature": 130, "air_temperature": 20, "humidity": 50 });
            losses.insert("surface".to_owned(), surface);
        });
        assert_problem(steam, 422, "inconsistent", &[&format!("{at}/surface/temperature")]);
    }
}
