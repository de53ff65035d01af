//! Logs that are refused, over HTTP.

use super::example;
use crate::assert_problem;
use crate::server::post;
use serde_json::{Value, json};

/// Asserts the refusal of the example after a change.
#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example();
    change(&mut question);
    assert_problem(post("/v1/losses", &question), 422, slug, pointers)
}

#[test]
fn a_log_in_disorder_is_refused() {
    refused("inconsistent", &["/log/3/day", "/log/5", "/log/7/day"], |q| {
        q["log"][3]["day"] = 3.into();
        q["log"][5].as_object_mut().unwrap().remove("at");
        q["log"][7].as_object_mut().unwrap().remove("at");
        q["log"][7]["day"] = 7.into();
    });
    refused("out-of-range", &["/log/2/at"], |q| q["log"][2]["at"] = "4 March, morning".into());
    refused("inconsistent", &["/log/4"], |q| q["log"][4]["at"] = q["log"][1]["at"].clone());
    // A log with days must keep using days.
    refused("inconsistent", &["/log/1/at", "/log/2/at"], |q| {
        let entries = q["log"].as_array().expect("entries")[..3].to_vec();
        q["log"] = entries.into();
        q["log"][0].as_object_mut().unwrap().remove("at");
        q["log"][0]["day"] = 0.into();
    });
}

#[test]
fn readings_that_contradict_are_refused() {
    refused("inconsistent", &["/log/2/volume", "/log/3/volume", "/log/4/reading"], |q| {
        q["log"][2]["volume"] = 260.into();
        q["log"][3]["volume"] = 0.into();
        q["log"][4]["concentration"] = 8.into();
    });
    refused("inconsistent", &["/log/6/reading"], |q| {
        q["log"][6]["reading"]["water_brix"] = 12.into();
    });
    refused("inconsistent", &["/log/1/removed/volume"], |q| {
        q["log"][1]["removed"] = json!({ "volume": 500 });
    });
    refused("inconsistent", &["/reading_uncertainty/concentration", "/known/carry_off/u"], |q| {
        q["reading_uncertainty"]["concentration"] = 0.into();
        q["known"] = json!({ "carry_off": { "value": 6, "u": 0 } });
    });
    let hours = ["/log/1/running_hours", "/log/3/running_hours"];
    refused("inconsistent", &hours, |q| {
        let entries = q["log"].as_array().expect("entries")[..4].to_vec();
        q["log"] = entries.into();
        for (i, hours) in [(0, Some(100)), (1, None), (2, Some(120)), (3, Some(110))] {
            q["log"][i]["running_hours"] = hours.into();
        }
    });
    // The sump held twenty litres, and twenty-five were taken out on the next day.
    let dry = json!([
        { "day": 0, "volume": 20, "concentration": 8 },
        { "day": 1, "removed": { "volume": 25 }, "added": { "volume": 30, "concentration": 5 } },
        { "day": 2, "volume": 10, "concentration": 8 },
    ]);
    let problem = refused("inconsistent", &["/log/1"], |q| q["log"] = dry);
    assert!(problem["detail"].as_str().unwrap().contains("dry by day 1."), "{problem}");
}

#[test]
fn a_depletion_ratio_of_nothing_or_given_twice_is_refused() {
    refused("inconsistent", &["/known/depletion_ratio"], |q| {
        q["known"] = json!({ "depletion_ratio": 0 });
    });
    refused("inconsistent", &["/known/depletion_ratio"], |q| {
        q["estimate"] = json!(["depletion_ratio"]);
        q["known"] = json!({ "depletion_ratio": 1.2, "carry_off": { "value": 6, "u": 1 } });
    });
}

/// A refusal for too little data says what to measure next.
#[test]
fn what_a_log_cannot_tell_is_refused_with_what_to_measure() {
    let problem = refused("not-identifiable", &["/log", "/log"], |q| {
        q["log"].as_array_mut().expect("entries").truncate(1);
    });
    assert!(problem["detail"].as_str().unwrap().contains("again"), "{problem}");
    refused("not-identifiable", &["/log"], |q| {
        for entry in q["log"].as_array_mut().expect("entries") {
            entry.as_object_mut().expect("an entry").remove("reading");
        }
    });
    let problem = refused("not-identifiable", &["/known/carry_off"], |q| {
        q["estimate"] = json!(["depletion_ratio"]);
    });
    assert!(problem["detail"].as_str().unwrap().contains("weighing"), "{problem}");
    refused("not-identifiable", &["/log"], |q| {
        for entry in q["log"].as_array_mut().expect("entries") {
            entry["running_hours"] = 500.into();
        }
    });
    // Two entries have four readings, and the volume needs five.
    refused("not-identifiable", &["/log"], |q| {
        q["estimate"] = json!(["volume"]);
        q["log"].as_array_mut().expect("entries").truncate(2);
    });
    // Nothing was added, so the volume cannot be estimated.
    refused("not-identifiable", &["/log"], |q| {
        q["estimate"] = json!(["volume"]);
        q["log"].as_array_mut().expect("entries").truncate(3);
        for entry in q["log"].as_array_mut().expect("entries") {
            entry.as_object_mut().expect("an entry").remove("added");
        }
    });
    let problem = refused("not-identifiable", &["/estimate"], |q| {
        q["estimate"] = json!(["volume"]);
        q["reading_uncertainty"] = json!({ "volume": 30, "concentration": 2 });
    });
    assert!(problem["detail"].as_str().unwrap().contains("tenth"), "{problem}");
    refused("not-identifiable", &["/estimate"], |q| {
        q["estimate"] = json!(["depletion_ratio"]);
        q["known"] = json!({ "carry_off": { "value": 6, "u": 5 } });
    });
}

/// Concentrate that appears from nowhere is not a loss.
#[test]
fn a_sump_that_gains_concentrate_is_refused() {
    let entries = (0..12).map(|day| {
        let day = f64::from(day);
        json!({ "day": day, "volume": 200.0 - 2.0 * day, "concentration": 6.0 + 0.3 * day })
    });
    let question = json!({
        "units": "metric", "sump": { "capacity": 200 }, "log": entries.collect::<Vec<_>>(),
        "reading_uncertainty": { "volume": 1, "concentration": 0.1 },
    });
    assert_problem(post("/v1/losses", &question), 422, "inconsistent", &["/log"]);
}

/// Concentrations that fall a thousandfold without a loss that would explain it: the search
/// ends where no step improves the fit, without a proof that it is the best.
#[test]
fn rates_that_cannot_be_proven_to_fit_best_are_not_given() {
    let log = json!({
        "units": "metric",
        "sump": { "capacity": 1100 },
        "reading_uncertainty": { "volume": 0.006, "concentration": 0.002 },
        "log": [
            { "day": 0, "volume": 126, "concentration": 10.6,
              "added": { "volume": 113, "concentration": 96 } },
            { "day": 300, "volume": 92, "concentration": 4.3 },
            { "day": 302, "volume": 108, "concentration": 0.62 },
            { "day": 602, "volume": 33, "concentration": 0.0075 },
        ],
    });
    assert_problem(post("/v1/losses", &log), 422, "unproven", &["/log"]);
}
