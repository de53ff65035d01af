//! Uncertainty, for every calculation.

mod one_top_up;
mod published;
mod refusals;
mod units;

use crate::draws::to_draw_from;
use crate::{SERVICES, number, solve};
use serde_json::{Map, Value, json};
use sumpwright_engine::document::{Pointer, Shape};
use sumpwright_openapi::flat;
use sumpwright_openapi::service::Service;

/// Pointers to the measured numbers of a document, not to counts.
fn measured(service: &Service, document: &Value) -> Vec<String> {
    let numbers = service.question.numbers(document).into_iter();
    numbers.filter(|(_, row, _)| !row.whole).map(|(pointer, ..)| pointer.into()).collect()
}

/// Whether a number changed by 5 % stays in its range.
fn lies_within(service: &Service, document: &Value, pointer: &str) -> bool {
    let Some(Shape::Number(Some(row))) = service.question.at(document, &Pointer::from(pointer))
    else {
        return false;
    };
    let x = number(document, pointer);
    row.admits(0.95 * x) && row.admits(1.05 * x)
}

/// A document with these uncertain inputs and this number of draws.
pub(crate) fn uncertain(document: &Value, inputs: &Value, draws: u64) -> Value {
    let mut document = document.clone();
    document["uncertainty"] = json!({ "inputs": inputs, "draws": draws });
    document
}

pub(crate) fn top_up() -> Value {
    json!({
        "units": "metric",
        "reference": "invented example: machining centre 7",
        "sump": {
            "capacity": 200,
            "volume": 140,
            "reading": { "method": "refractometer", "brix": 5.6, "factor": 1.25 },
        },
        "target": { "concentration": 8 },
    })
}

pub(crate) fn sure_top_up() -> Value {
    let inputs = json!({
        "/sump/volume": { "u": 4 },
        "/sump/reading/brix": { "half_width": 0.25 },
        "/sump/reading/factor": { "u": 0.03 },
    });
    uncertain(&top_up(), &inputs, 10_000)
}

/// The record without its uncertainty.
fn plain(mut record: Value) -> Value {
    record.as_object_mut().expect("a record").shift_remove("uncertainty");
    record
}

/// Every calculation accepts an uncertainty of 1 % for every measured number of its
/// example, gives the plain answer with it, and the uncertainty of each of its numbers.
#[test]
fn every_calculation_says_how_sure_it_is() {
    for service in SERVICES.iter() {
        let example = to_draw_from(service);
        let answer = solve(service.name, &example).expect("an example is answered");
        let pointers = measured(service, &example);
        assert!(!pointers.is_empty(), "{} has nothing to measure", service.name);
        let numbers: Vec<(String, f64)> = flat::flatten(&answer["answer"])
            .into_iter()
            .filter_map(|(path, leaf)| {
                Some((format!("/answer/{}", path.replace('.', "/")), leaf.as_f64()?))
            })
            .collect();
        let one_percent = |pointer: &String| {
            (pointer.clone(), json!({ "u": number(&example, pointer).abs() / 100.0 }))
        };
        // Half the draws of neat concentrate exceed 100 %: such a number is varied
        // separately, so that enough draws of the others are answered.
        let (inner, edge): (Vec<String>, Vec<String>) =
            pointers.into_iter().partition(|pointer| lies_within(service, &example, pointer));
        for hundred in inner.chunks(100).chain(edge.chunks(1)) {
            let inputs: Map<String, Value> = hundred.iter().map(one_percent).collect();
            let record = solve(service.name, &uncertain(&example, &inputs.into(), 200));
            let record = record.unwrap_or_else(|problem| panic!("{}: {problem:?}", service.name));
            let sure = &record["uncertainty"];
            let answered = sure["answered"].as_u64().expect("a count");
            let refused = sure["refused"].as_object().expect("counts").values();
            let refused: u64 = refused.filter_map(Value::as_u64).sum();
            assert_eq!(answered + refused, 200, "{}", service.name);
            assert!(answered >= 40, "{}: {}", service.name, sure["refused"]);
            let said = sure["numbers"].as_object().expect("numbers");
            assert_eq!(said.len(), numbers.len(), "{}", service.name);
            let mut moved = 0;
            for ((pointer, value), (own, said)) in numbers.iter().zip(said) {
                assert_eq!(&pointer.replace("~1", "/"), &own.replace("~1", "/"));
                assert_eq!(said["value"].as_f64(), Some(*value), "{} {pointer}", service.name);
                let Some(u) = said.get("u").and_then(Value::as_f64) else { continue };
                let part = |name: &str| said[name].as_f64().expect("it is there with u");
                let rounding = 1e-9 * value.abs();
                assert!(part("mean").is_finite() && part("low") <= part("high"));
                let half_width = (part("high") - part("low")) / 2.0;
                assert!((part("half_width") - half_width).abs() <= rounding);
                // Chebyshev: at most 2.5 % lie more than 6.3 u from the mean.
                assert!(half_width <= 6.4 * u + rounding, "{} {pointer}: {said}", service.name);
                moved += usize::from(u > 0.0);
            }
            // Some inputs only set a limit; all of them together have an effect.
            assert!(moved > 0 || hundred.len() < inner.len(), "{}", service.name);
            assert_eq!(plain(record), answer, "{}", service.name);
        }
    }
}
