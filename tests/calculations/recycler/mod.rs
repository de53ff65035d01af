//! Recycler: its answer and its chart.

mod correction;
mod least;
mod levels;
mod microbes;
mod plans;
mod published;
mod refusals;
mod statement;

use crate::support::findings;
use crate::{assert_near, number, service, solve};
use serde_json::{Value, json};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::calculations::recycling::recycler::{Recycler, RecyclerAnswer};
use sumpwright_engine::picture::{Layer, Shows};
use sumpwright_openapi::envelope::{Record, Request};

pub(crate) fn example() -> Value {
    serde_json::from_str(service("recycler").example).expect("an example is JSON")
}

pub(crate) fn batch(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = json!({
        "units": "metric",
        "feed": {
            "volume": 900,
            "concentration": 6,
            "properties": { "tramp_oil": 3, "solids": 600, "chloride": 100 },
            "emulsified_share": 10,
        },
        "stages": [
            { "name": "skimmer", "throughput": 150, "removes": { "tramp_oil": 70 } },
            { "name": "filter", "throughput": 120, "removes": { "solids": 60 } },
        ],
        "mode": "single_pass",
        "hours_per_day": 10,
        "target": { "concentration": 8, "limits": { "solids": { "max": 50 } } },
    });
    change(&mut question);
    question
}

/// By hand: three passes at 60 % leave 600·0.4³ = 38.4 mg/L of what was solids,
/// a little more for the oil that has left; two leave 96. The filter holds the
/// rest back on each pass, on the first with 900 − 900·0.03·0.9·0.7 L.
#[test]
fn passes_and_hours_are_those_of_the_slowest_stage() {
    let record = solve("recycler", &batch(|_| ())).expect("it is answered");
    assert_eq!(number(&record, "/answer/passes"), 3.0);
    assert_eq!(record["answer"]["limited_by"], "filter");
    let oil: f64 = 900.0 * 0.03 * 0.9;
    let after = |n: i32| 900.0 - oil + oil * 0.3_f64.powi(n);
    let hours = (after(1) + after(2) + after(3)) / 120.0;
    assert_near(number(&record, "/answer/hours"), hours, 1e-12);
    assert_near(number(&record, "/answer/recovered/volume"), after(3), 1e-9);
    let solids = 600.0 * 0.4_f64.powi(3) * 900.0 / after(3);
    assert_near(number(&record, "/answer/recovered/properties/solids"), solids, 1e-9);
    assert_near(number(&record, "/answer/capacity_per_day"), 900.0 / hours * 10.0, 1e-9);
}

/// A stage described by its separator removes as much as `separation` calculates at the
/// flow of the slowest stage.
#[test]
fn a_separator_removes_what_a_separation_says() {
    let question = example();
    let separator = &question["stages"][0]["separator"];
    let asked = json!({ "units": "metric", "throughput": 90, "separator": separator });
    let removed = solve("separation", &asked).expect("it is answered");
    let mut given = question.clone();
    given["stages"][0].as_object_mut().unwrap().remove("separator");
    given["stages"][0]["removes"] = removed["answer"]["removed"].clone();
    let [by_size, by_share] = [&question, &given].map(|q| solve("recycler", q).expect("answered"));
    assert_eq!(by_size["answer"], by_share["answer"]);
}

/// A batch with emulsified oil beyond its limit says so, and is diluted.
#[test]
fn emulsified_oil_is_named_and_thinned() {
    let question = batch(|question| {
        question["feed"]["emulsified_share"] = 60.into();
        question["target"]["limits"]["tramp_oil"] = json!({ "max": 1 });
    });
    let record = solve("recycler", &question).expect("it is answered");
    let told = findings("recycler", &question, "emulsified-oil-stays");
    assert_eq!(told[0]["pointer"], "/target/limits/tramp_oil/max");
    let left = number(&record, "/answer/recovered/properties/tramp_oil");
    let text = told[0]["text"].as_str().expect("a text");
    assert!(text.contains(&format!("{left:.2}")) && text.contains("1 % by volume"), "{text}");
    assert_near(number(&record, "/answer/correction/batch/properties/tramp_oil"), 1.0, 1e-6);
    let share = number(&record, "/answer/correction/take/0/share");
    assert_near(share, 100.0 / left, 1e-4);
}

/// The tank levels to the moment. By hand: 600 L run into an empty tank in 6 h
/// from six o'clock while 50 L/h are worked from eight: 200 L at eight, then
/// 50 L/h more, so that 300 L are full at ten. Clean: 100 L, 50 L/h from eight,
/// fetched at 200 L/h from nine: 150 L at nine, gone an hour later.
#[test]
fn overflow_and_shortage_are_found_within_the_day() {
    let question = json!({
        "units": "metric",
        "feed": { "arrivals": [{ "day": 0.25, "volume": 600, "hours": 6 }], "concentration": 6 },
        "stages": [{ "name": "filter", "throughput": 50 }],
        "mode": "single_pass",
        "hours_per_day": 8,
        "starts_at_hour": 8,
        "tanks": {
            "dirty": { "capacity": 300 },
            "clean": { "capacity": 1000, "level": 100 },
        },
        "demand": [{ "day": 0.375, "volume": 400, "hours": 2 }],
        "target": { "concentration": 6 },
    });
    let record = solve("recycler", &question).expect("it is answered");
    assert_near(number(&record, "/answer/first_overflow/day"), 10.0 / 24.0, 1e-12);
    assert_near(number(&record, "/answer/first_overflow/volume"), 100.0, 1e-9);
    assert_near(number(&record, "/answer/first_shortage/day"), 10.0 / 24.0, 1e-12);
    assert_near(number(&record, "/answer/first_shortage/volume"), 150.0, 1e-9);
    assert_near(number(&record, "/answer/smallest/dirty"), 400.0, 1e-9);
    assert!(record["answer"]["smallest"]["clean"].is_null());
}

/// The demo shop's week can be drawn: both tanks under their capacities, with
/// the deliveries and what is fetched.
#[test]
fn the_week_is_drawn() {
    let service = service("recycler");
    let request: Request<Recycler> = serde_json::from_str(service.example).expect("a question");
    let answer = service.answer(service.example.as_bytes()).expect("it is answered");
    let record: Record<RecyclerAnswer> = serde_json::from_slice(&answer).expect("an answer");
    let question = request.question;
    let drawn = Recycler::PICTURES.map(|draw| draw(&question, &record.answer)).expect("pictures");
    let Shows::Panels(tanks) = &drawn[0].shows else { panic!("{drawn:?}") };
    assert!(tanks.panels.len() == 2);
    for (panel, events) in tanks.panels.iter().zip([3, 4]) {
        let mut seen = 0;
        let mut limit = f64::NAN;
        for layer in &panel.layers {
            match layer {
                Layer::Limit { at, .. } => limit = *at,
                Layer::Line { points, .. } => {
                    assert!(points.is_sorted_by(|a, b| a.0 <= b.0));
                    assert!(points.iter().all(|(_, level)| (0.0..=limit).contains(level)));
                }
                Layer::Event { .. } => seen += 1,
                Layer::Stretch { label, from, to } => {
                    assert!(label == "full" && from < to, "{layer:?}");
                }
                other => panic!("{other:?}"),
            }
        }
        assert_eq!(seen, events);
    }
}
