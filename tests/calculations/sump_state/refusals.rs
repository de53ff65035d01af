//! Logs and states that are refused, over HTTP.

use super::example;
use crate::assert_problem;
use crate::server::post;
use crate::solve;
use serde_json::{Value, json};

/// Asserts the refusal of the example after a change.
#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example();
    change(&mut question);
    assert_problem(post("/v1/sump-state", &question), 422, slug, pointers)
}

#[test]
fn moments_that_are_none_or_out_of_order_are_refused() {
    refused("out-of-range", &["/log/2/at", "/now"], |q| {
        q["log"][2]["at"] = "3/2/2026".into();
        q["now"] = "soon".into();
    });
    let problem =
        refused("out-of-range", &["/time_zone"], |q| q["time_zone"] = "Europe/Berln".into());
    assert!(problem["detail"].as_str().unwrap().contains("Europe/Berlin"), "{problem}");
    refused("inconsistent", &["/now"], |q| q["now"] = "2026-03-05".into());
    refused("inconsistent", &["/log/4"], |q| q["log"][4]["at"] = "2026-03-02".into());
}

#[test]
fn a_state_that_is_none_or_newer_than_its_entries_is_refused() {
    let state = solve("sump-state", &example()).expect("it is answered")["answer"]["state"].clone();
    refused("inconsistent", &["/log/0"], |q| q["state"] = state.clone());
    refused("inconsistent", &["/state"], |q| {
        q["state"] = state.clone();
        q["log"] = json!([{ "at": "2026-04-17", "volume": 180 }]);
        q["now"] = "2026-04-17".into();
        q["state"]["correlations"].as_array_mut().expect("correlations").pop();
    });
}

#[test]
fn a_log_without_a_strength_and_one_that_runs_dry_are_refused() {
    refused("not-identifiable", &["/log"], |q| {
        for entry in q["log"].as_array_mut().expect("entries") {
            entry.as_object_mut().expect("an entry").remove("reading");
        }
    });
    refused("inconsistent", &["/log/0"], |q| {
        q["log"] = json!([{ "at": "2026-03-02", "volume": 180, "concentration": 8 }]);
        q["losses"] = json!({ "evaporation": { "value": 20, "u": 1 } });
    });
    refused("inconsistent", &["/log/1/filled_to", "/log/2/added/of"], |q| {
        q["log"][1]["filled_to"] = "ful".into();
        q["log"][1]["added"] = json!({ "volume": 5, "of": "water" });
        q["log"][2]["added"] = json!({ "volume": 5, "of": "weak premx" });
    });
}
