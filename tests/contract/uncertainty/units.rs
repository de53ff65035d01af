//! Uncertainty in US units is the same as in metric ones.

use super::{measured, uncertain};
use crate::draws::to_draw_from;
use crate::support::units::in_us_units;
use crate::{SERVICES, assert_near, number, solve};
use serde_json::{Map, Value, json};
use sumpwright_engine::document::{Pointer, Shape};
use sumpwright_engine::quantity::UnitSystem;

/// Size of a number's unit in the metric unit.
fn unit(shape: &Shape, document: &Value, pointer: &str, units: UnitSystem) -> f64 {
    match shape.at(document, &Pointer::from(pointer)) {
        Some(Shape::Number(Some(row))) => row.units.metric_per_unit(units),
        _ => panic!("no number at {pointer}"),
    }
}

/// Calculations whose answers are words and whole days: no number in them has an uncertainty.
const OF_WORDS: [&str; 2] = ["condition", "test-plan"];

/// Sensitivities have units of their own, and u has none of the offset of °F.
#[test]
fn us_units_say_the_same() {
    for service in SERVICES.iter() {
        let example = to_draw_from(service);
        let us = in_us_units(service, &example);
        let pointers = measured(service, &example);
        let ask = |document: &Value, units: UnitSystem| {
            let one_percent = |pointer: &String| {
                let u = number(&example, pointer).abs() / 100.0;
                (
                    pointer.clone(),
                    json!({ "u": u / unit(&service.question, document, pointer, units) }),
                )
            };
            let inputs: Map<String, Value> = pointers.iter().take(6).map(one_percent).collect();
            solve(service.name, &uncertain(document, &inputs.into(), 100)).expect("it is answered")
        };
        let metric = ask(&example, UnitSystem::Metric);
        let us = ask(&us, UnitSystem::Us);
        let numbers = metric["uncertainty"]["numbers"].as_object().expect("numbers");
        let mut compared = 0;
        for (pointer, said) in numbers {
            let us_said = &us["uncertainty"]["numbers"][pointer];
            let (Some(u), Some(us_u)) = (said["u"].as_f64(), us_said["u"].as_f64()) else {
                continue;
            };
            // Except for draws at which the answer jumps.
            if u > 0.0 && said["first_order"]["standing"] != "disagrees" {
                let in_metric = us_u * unit(&service.record, &us, pointer, UnitSystem::Us);
                assert!((in_metric / u - 1.0).abs() <= 1e-6, "{} {pointer}", service.name);
                compared += 1;
            }
        }
        let is_of_numbers = !OF_WORDS.contains(&service.name);
        assert_eq!(compared > 0, is_of_numbers, "{} of {} compared", compared, service.name);
    }
    let question = json!({
        "units": "us",
        "reading": { "method": "refractometer", "brix": 5, "factor": 1.25, "temperature": 77 },
        "uncertainty": { "inputs": { "/reading/temperature": { "u": 1.8 } }, "draws": 1000 },
    });
    let mut metric = question.clone();
    metric["units"] = "metric".into();
    metric["reading"]["temperature"] = 25.into();
    metric["uncertainty"]["inputs"]["/reading/temperature"]["u"] = 1.into();
    let u = "/uncertainty/numbers/~1answer~1concentration/u";
    let (us, metric) = (solve("concentration", &question), solve("concentration", &metric));
    let (us, metric) = (us.expect("an answer"), metric.expect("an answer"));
    assert_near(number(&us, u), number(&metric, u), 1e-9);
    let sensitivity = "/uncertainty/numbers/~1answer~1concentration/first_order/budget\
                       /~1reading~1temperature/sensitivity";
    assert_near(number(&us, sensitivity) * 1.8, number(&metric, sensitivity), 1e-9);
}
