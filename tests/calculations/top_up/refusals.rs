//! Top-ups that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use serde_json::{Value, json};

fn top_up(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 140, "concentration": 7 },
        "target": { "concentration": 8 },
    });
    change(&mut question);
    question
}

#[test]
fn members_that_contradict_each_other_are_inconsistent() {
    let overfull = top_up(|q| q["sump"]["volume"] = 240.into());
    let problem =
        assert_problem(post("/v1/top-up", &overfull), 422, "inconsistent", &["/sump/volume"]);
    assert!(problem["detail"].as_str().unwrap().contains("240 L"), "{problem}");

    let twice = top_up(|question| {
        let reading = json!({ "method": "refractometer", "brix": 5, "factor": 1 });
        question["sump"]["reading"] = reading;
    });
    assert_problem(post("/v1/top-up", &twice), 422, "inconsistent", &["/sump/reading"]);
}

#[test]
fn a_sump_that_may_not_be_drained_cannot_hold_less() {
    let less = top_up(|question| {
        question["target"]["volume"] = 100.into();
        question["draining"] = "not_allowed".into();
    });
    assert_problem(post("/v1/top-up", &less), 422, "inconsistent", &["/target/volume"]);
}

#[test]
fn what_no_batch_does_is_unreachable_and_says_what_can_be_reached() {
    let weak = top_up(|question| {
        question["stocks"] = json!([
            { "name": "premix", "concentration": 5 },
            { "name": "water", "concentration": 0 },
        ]);
    });
    let problem =
        assert_problem(post("/v1/top-up", &weak), 422, "unreachable", &["/target/concentration"]);
    // 140 L at 7 % and 60 L at 5 % are 200 L at 6.4 %.
    let high = problem["reachable"]["concentration"]["high"].as_f64().unwrap();
    assert!((high - 6.4).abs() < 1e-12, "{problem}");

    let empty = top_up(|question| {
        question["stocks"] = json!([{ "name": "premix", "concentration": 9, "volume": 10 }]);
    });
    let problem =
        assert_problem(post("/v1/top-up", &empty), 422, "unreachable", &["/target/volume"]);
    assert_eq!(problem["reachable"]["volume"]["high"], 150.0);
}

#[test]
fn what_the_data_cannot_tell_is_not_identifiable() {
    let unknown = top_up(|question| {
        question["sump"].as_object_mut().unwrap().remove("concentration");
    });
    let problem = post("/v1/top-up", &unknown);
    assert_problem(problem, 422, "not-identifiable", &["/sump/concentration"]);
}

/// The table of temperature corrections ends at 30 °C.
#[test]
fn a_reading_too_hot_for_its_table_is_out_of_range() {
    let hot = top_up(|question| {
        let sump = question["sump"].as_object_mut().unwrap();
        sump.remove("concentration");
        let reading =
            json!({ "method": "refractometer", "brix": 5, "factor": 1, "temperature": 31 });
        sump.insert("reading".to_owned(), reading);
    });
    assert_problem(post("/v1/top-up", &hot), 422, "out-of-range", &["/sump/reading/temperature"]);
}
