//! A sump that is fed its make-up does not change.

use crate::{number, solve};
use proptest::prelude::*;
use serde_json::{Value, json};

/// A question with steady make-up, and the state it should keep.
pub(crate) fn held() -> impl Strategy<Value = Value> {
    let rates = (0.0..20.0, 0.01..20.0, 0.0..2.0, proptest::option::of(0.0..5.0_f64));
    (rates, 1.0..12.0, 50.0..900.0, 10.0..400.0).prop_map(|((e, d, k, b), c, v, salts)| {
        let mut question = json!({
            "units": "metric",
            "sump": { "volume": v, "concentration": c },
            "losses": { "evaporation": e, "carry_off": d, "depletion_ratio": k },
            "water": { "properties": { "chloride": salts } },
        });
        if let Some(b) = b {
            question["discharge"] = b.into();
        }
        question
    })
}

/// The forecast of a sump with given additions instead of its make-up.
pub(crate) fn forecast_of(held: &Value, feeding: Value, days: f64) -> Value {
    let mut question = held.clone();
    let members = question.as_object_mut().unwrap();
    members.remove("water");
    question["sump"]["capacity"] = held["sump"]["volume"].clone();
    question["feeding"] = feeding;
    question["days"] = days.into();
    question
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 100, failure_persistence: None, ..Default::default() })]

    /// The make-up keeps the sump steady, and its salts end at the stated level.
    #[test]
    fn a_sump_fed_its_make_up_stays_put(question in held()) {
        let make_up = solve("make-up", &question).expect("it can be held");
        let premix = json!({
            "kind": "premix",
            "concentration": make_up["answer"]["concentration"],
            "properties": question["water"]["properties"],
        });
        let rate = make_up["answer"]["daily"]["volume"].clone();
        let feeding = json!({ "when": "always", "rate": rate, "with": premix });
        let record = solve("forecast", &forecast_of(&question, feeding, 500.0)).expect("a course");
        let (v, c) = (number(&question, "/sump/volume"), number(&question, "/sump/concentration"));
        for row in record["answer"]["series"].as_array().unwrap().iter().step_by(50) {
            prop_assert!((number(row, "/volume") - v).abs() < 1e-9 * v);
            prop_assert!((number(row, "/concentration") - c).abs() < 1e-9 * c);
        }
        let settled = number(&make_up, "/answer/properties/chloride/settles_at");
        let out = number(&question, "/losses/carry_off")
            + question["discharge"].as_f64().unwrap_or(0.0);
        let left = (-out * 500.0 / v).exp();
        let after = number(&record, "/answer/after/properties/chloride");
        prop_assert!((after - settled).abs() <= 1e-9 * settled + 1.0001 * left * settled);
    }
}
