//! Sumps over time: every refusal, over HTTP, and what holds for any sump.

use crate::problems::assert_problem;
use crate::server::post;
use crate::{number, service, solve};
use proptest::prelude::*;
use serde_json::{Value, json};

fn example(name: &str) -> Value {
    serde_json::from_str(service(name).example).expect("an example is JSON")
}

/// The example with a change, refused.
#[track_caller]
fn refused(name: &str, slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example(name);
    change(&mut question);
    assert_problem(post(&format!("/v1/{name}"), &question), 422, slug, pointers)
}

#[test]
fn a_make_up_is_refused_where_it_cannot_be() {
    let name = "make-up";
    refused(name, "inconsistent", &["/limits/hardness/min"], |q| {
        q["limits"]["hardness"]["min"] = 500.into();
    });
    refused(name, "inconsistent", &["/sump/properties/tramp_oil"], |q| {
        q["sump"]["properties"]["tramp_oil"] = 95.into();
    });
    refused(name, "inconsistent", &["/water/properties/tramp_oil"], |q| {
        q["water"]["properties"]["tramp_oil"] = 100.into();
    });
    refused(name, "inconsistent", &["/concentrate/properties/tramp_oil"], |q| {
        q["concentrate"] = json!({ "properties": { "tramp_oil": 1 } });
    });
    refused(name, "not-identifiable", &["/limits/hardnes"], |q| {
        q["limits"]["hardnes"] = json!({ "max": 500 });
    });
    let problem = refused(name, "unreachable", &["/losses/depletion_ratio"], |q| {
        q["losses"]["depletion_ratio"] = 20.into();
    });
    assert_eq!(number(&problem, "/reachable/concentration/high"), 5.0);
    refused(name, "unreachable", &["/water/properties/tramp_oil"], |q| {
        q["water"]["properties"]["tramp_oil"] = 60.into();
    });
}

#[test]
fn a_forecast_is_refused_where_it_contradicts_itself() {
    let name = "forecast";
    refused(name, "out-of-range", &["/days"], |q| q["days"] = 3661.into());
    refused(name, "out-of-range", &["/days"], |q| q["days"] = 0.into());
    refused(name, "out-of-range", &["/feeding/days"], |q| q["feeding"]["days"] = 0.01.into());
    refused(name, "inconsistent", &["/sump/volume"], |q| q["sump"]["volume"] = 0.into());
    refused(name, "inconsistent", &["/sump/volume"], |q| q["sump"]["volume"] = 201.into());
    refused(name, "inconsistent", &["/band/low", "/levels/min"], |q| {
        q["band"]["low"] = 8.into();
        q["levels"]["min"] = 250.into();
    });
    refused(name, "inconsistent", &["/limits/tramp_oil/min"], |q| {
        q["limits"]["tramp_oil"]["min"] = 2.into();
    });
    refused(name, "inconsistent", &["/losses/depletion_ratio"], |q| {
        q["losses"]["depletion_ratio"] = 14.into();
    });
    refused(name, "inconsistent", &["/feeding/to"], |q| q["feeding"]["to"] = 201.into());
    refused(name, "inconsistent", &["/feeding/level"], |q| {
        q["feeding"] = json!({ "when": "below", "level": 200, "with": q["feeding"]["with"] });
    });
    refused(name, "inconsistent", &["/feeding/with/properties/tramp_oil"], |q| {
        q["feeding"]["with"]["properties"]["tramp_oil"] = 98.into();
    });
    refused(name, "inconsistent", &["/feeding/with/water/properties/tramp_oil"], |q| {
        let water = json!({ "properties": { "tramp_oil": 100 } });
        q["feeding"]["with"] = json!({ "kind": "water_and_concentrate", "water": water });
    });
    refused(name, "inconsistent", &["/feeding/with/concentrate/properties/tramp_oil"], |q| {
        let neat = json!({ "properties": { "tramp_oil": 1 } });
        q["feeding"]["with"] = json!({ "kind": "water_and_concentrate", "concentrate": neat });
    });
    refused(name, "inconsistent", &["/changes/0/day", "/changes/1"], |q| {
        q["changes"] = json!([{ "day": 61, "removed": { "volume": 1 } }, { "day": 3 }]);
    });
    refused(name, "inconsistent", &["/changes/0/added/properties/tramp_oil"], |q| {
        q["changes"][0]["added"]["properties"]["tramp_oil"] = 90.into();
    });
    // The later of the two by day, the first in the request.
    refused(name, "inconsistent", &["/changes/0/removed/volume"], |q| {
        q["changes"] = json!([
            { "day": 3, "removed": { "volume": 190 } },
            { "day": 2, "removed": { "volume": 10 } },
        ]);
    });
}

#[test]
fn a_forecast_is_refused_where_something_is_not_said_or_is_too_much() {
    let name = "forecast";
    refused(name, "not-identifiable", &["/sump/concentration"], |q| {
        q["sump"].as_object_mut().unwrap().remove("concentration");
    });
    refused(name, "not-identifiable", &["/feeding/with/target"], |q| {
        q.as_object_mut().unwrap().remove("band");
        q["feeding"]["with"] = json!({ "kind": "water_and_concentrate" });
    });
    let pointers = ["/limits/chlorides", "/feeding/with/target"];
    refused(name, "not-identifiable", &pointers, |q| {
        q.as_object_mut().unwrap().remove("band");
        q["limits"]["chlorides"] = json!({ "max": 500 });
        q["feeding"]["with"] = json!({ "kind": "water_and_concentrate" });
    });
    refused(name, "out-of-range", &["/feeding"], |q| {
        q["feeding"] = json!({
            "when": "below", "level": 199.999, "to": 200, "with": q["feeding"]["with"],
        });
    });
}

/// A sump that runs dry is told to the day, and the forecast ends there.
#[test]
fn a_sump_that_nobody_feeds_runs_dry() {
    let mut question = example("forecast");
    for member in ["feeding", "changes", "oil_leak", "skimmer", "limits"] {
        question.as_object_mut().unwrap().remove(member);
    }
    question["losses"] = json!({ "evaporation": 0, "carry_off": 4 });
    question["sump"]["properties"] = json!({ "chloride": 50 });
    let record = solve("forecast", &question).expect("a course");
    // 99 % of 184 L at 4 L a day.
    let day = 0.99 * 184.0 / 4.0;
    crate::assert_near(number(&record, "/answer/runs_dry_day"), day, 1e-9);
    let series = record["answer"]["series"].as_array().unwrap();
    crate::assert_near(number(series.last().unwrap(), "/day"), day, 1e-9);
    assert_eq!(record["answer"]["next_visit"]["reason"], "leaves_band");
    crate::assert_near(number(&record, "/answer/next_visit/day"), 44.0 / 4.0, 1e-9);
}

/// What leaves its band and is back before anybody comes is found all the same:
/// oil leaks in fast at first and is skimmed ever faster, while the level falls.
#[test]
fn what_goes_out_and_comes_back_between_two_days_is_found() {
    let question = json!({
        "units": "metric",
        "sump": { "capacity": 101, "volume": 100, "concentration": 5,
                  "properties": { "tramp_oil": 0 } },
        "losses": { "evaporation": 2, "carry_off": 2 },
        "oil_leak": 10, "skimmer": 1000,
        "levels": { "max": 100.2 },
        "days": 1,
    });
    let record = solve("forecast", &question).expect("a course");
    let crossings = record["answer"]["crossings"].as_array().unwrap();
    assert_eq!(crossings.len(), 1, "{crossings:?}");
    assert_eq!(crossings[0]["what"], "volume");
    assert_eq!(crossings[0]["side"], "above");
    let (out, back) = (number(&crossings[0], "/day"), number(&crossings[0], "/back_day"));
    assert!(0.0 < out && out < back && back < 1.0, "{out} to {back}");
    let series = record["answer"]["series"].as_array().unwrap();
    assert!(series.iter().all(|row| number(row, "/volume") <= 100.2), "no day shows it");
}

/// A question with steady make-up, and what it should hold.
fn held() -> impl Strategy<Value = Value> {
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

fn forecast_of(held: &Value, feeding: Value, days: f64) -> Value {
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

    /// The make-up holds the sump, and its salts end where it says.
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

    /// Whatever is fed whenever: nothing is negative, and water fed less water
    /// lost is the water that stays, by arithmetic of the rates alone.
    #[test]
    fn water_is_neither_made_nor_lost(
        question in held(),
        every in 0.3..9.0_f64,
        strength in 0.0..15.0_f64,
        days in 0.5..200.0_f64,
    ) {
        let premix = json!({ "kind": "premix", "concentration": strength });
        let feeding = json!({ "when": "every", "days": every, "with": premix });
        let record = solve("forecast", &forecast_of(&question, feeding, days)).expect("a course");
        let answer = &record["answer"];
        for row in answer["series"].as_array().unwrap() {
            prop_assert!(number(row, "/volume") >= 0.0 && number(row, "/concentration") >= 0.0);
        }
        let end = number(answer, "/after/day");
        let lost = end * (number(&question, "/losses/evaporation")
            + number(&question, "/losses/carry_off")
            + question["discharge"].as_f64().unwrap_or(0.0));
        let (v, after) = (number(&question, "/sump/volume"), number(answer, "/after/volume"));
        let fed = number(answer, "/total/volume");
        prop_assert!((v + fed - lost - after).abs() < 1e-9 * (v + fed));
        let feedings = answer["feedings"].as_array().unwrap();
        let one_by_one: f64 = feedings.iter().map(|fed| number(fed, "/volume")).sum();
        prop_assert!((fed - one_by_one).abs() < 1e-9 * (1.0 + fed));
    }
}
