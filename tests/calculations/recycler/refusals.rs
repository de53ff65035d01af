//! Recycling plans that are refused, over HTTP.

use super::{batch, example};
use crate::assert_problem;
use crate::server::post;
use serde_json::{Value, json};

#[track_caller]
fn refused(question: &Value, slug: &str, pointers: &[&str]) -> Value {
    assert_problem(post("/v1/recycler", question), 422, slug, pointers)
}

#[test]
fn days_and_hours_that_cannot_be_are_out_of_range() {
    let mut eighth = example();
    eighth["runs_on"] = json!([0, 7]);
    refused(&eighth, "out-of-range", &["/runs_on/1"]);

    let mut week = example();
    week["hours_per_day"] = 0.into();
    week["plan_days"] = 401.into();
    refused(&week, "out-of-range", &["/hours_per_day", "/plan_days"]);
    week["feed"]["spread"]["draws"] = 0.into();
    refused(&week, "out-of-range", &["/feed/spread/draws"]);

    let mut late = example();
    late["feed"]["arrivals"][1]["day"] = 400.into();
    late["demand"][0]["day"] = 399.99.into();
    late.as_object_mut().unwrap().remove("plan_days");
    refused(&late, "out-of-range", &["/feed/arrivals/1/day", "/demand/0/day"]);

    let mut costly = example();
    costly["feed"]["spread"]["draws"] = 1_000_000_000.into();
    refused(&costly, "out-of-range", &["/feed/spread/draws"]);
}

#[test]
fn members_that_contradict_each_other_are_inconsistent() {
    let mut week = example();
    week["feed"]["volume"] = 100.into();
    week["feed"]["concentration"] = 5.into();
    week["feed"]["arrivals"][2]["product"] = "product A".into();
    week["feed"]["arrivals"][0]["concentration"] = 99.into();
    week["feed"]["arrivals"][0]["properties"] = json!({ "tramp_oil": 2 });
    week["stages"][1]["name"] = "centrifuge".into();
    week["stages"][0]["throughput"] = 0.into();
    week["stages"][1]["good_fluid_lost"] = 100.into();
    week["stages"][1]["removes"] = json!({ "solid": 50 });
    week["tanks"]["dirty"]["level"] = 801.into();
    week["tanks"]["clean"]["level"] = 1201.into();
    week["demand"][3]["day"] = 6.99.into();
    week["target"]["limits"]["chloride"] = json!({ "min": 200, "max": 100 });
    week["stocks"][0]["name"] = "recovered fluid".into();
    week["stocks"][1]["properties"] = json!({ "tramp_oil": 100 });
    week["stocks"][1]["concentration"] = 1.into();
    let pointers = [
        "/feed/arrivals",
        "/feed/reading",
        "/feed/arrivals/2/product",
        "/feed/arrivals/0/properties/tramp_oil",
        "/stages/2/name",
        "/stages/0/throughput",
        "/stages/1/good_fluid_lost",
        "/stages/1/removes/solid",
        "/tanks/dirty/level",
        "/tanks/clean/level",
        "/demand/3/day",
        "/target/limits/chloride/min",
        "/stocks/0/name",
        "/stocks/1/properties/tramp_oil",
    ];
    let problem = refused(&week, "inconsistent", &pointers);
    assert!(problem.to_string().contains("\\\"solids\\\"?"), "{problem:#}");

    let full = batch(|q| q["feed"]["properties"]["tramp_oil"] = 97.into());
    refused(&full, "inconsistent", &["/feed/properties/tramp_oil"]);
    let all_oil = batch(|question| {
        question["feed"]["concentration"] = 0.into();
        question["feed"]["properties"]["tramp_oil"] = 100.into();
    });
    refused(&all_oil, "inconsistent", &["/feed/properties"]);
    let mut nothing = example();
    nothing["feed"]["arrivals"] = json!([{ "day": 1, "volume": 0 }]);
    nothing["tanks"]["dirty"]["level"] = 0.into();
    refused(&nothing, "inconsistent", &["/feed/arrivals"]);
    let spread = batch(|q| q["feed"]["spread"] = json!({ "share": 10 }));
    refused(&spread, "inconsistent", &["/feed/spread"]);
    let idle = batch(|question| {
        question["plan_days"] = 2.into();
        question["runs_on"] = json!([5]);
    });
    refused(&idle, "inconsistent", &["/plan_days"]);
    let twice = batch(|question| {
        let stage = json!({ "kind": "filter", "efficiency": 50 });
        let particles = json!([{ "property": "solid" }]);
        question["stages"][1]["separator"] = json!({ "stage": stage, "particles": particles });
    });
    let pointers = ["/stages/1/removes", "/stages/1/separator/particles/0/property"];
    refused(&twice, "inconsistent", &pointers);
    let membrane = batch(|question| {
        let stage = json!({ "kind": "ultrafiltration", "volume_concentration_factor": 20 });
        let particles = json!([{ "property": "solids" }]);
        let separator = json!({ "stage": stage, "particles": particles });
        question["stages"][1] =
            json!({ "name": "membrane", "throughput": 60, "separator": separator });
    });
    refused(&membrane, "inconsistent", &["/stages/1/separator/stage"]);
    let source = batch(|q| q["sources"] = json!([{ "property": "tramp_oil", "rate": 1 }]));
    refused(&source, "inconsistent", &["/sources", "/sources/0/property"]);
}

#[test]
fn what_is_missing_is_not_identifiable() {
    let bare = batch(|question| {
        question["feed"] = json!({ "emulsified_share": 10 });
        question["stages"] = json!([{ "name": "filter", "throughput": 10 }]);
    });
    let pointers = ["/feed/volume", "/feed/emulsified_share", "/target/limits/solids"];
    refused(&bare, "not-identifiable", &pointers);
    let mut week = example();
    week["feed"].as_object_mut().unwrap().remove("reading");
    week.as_object_mut().unwrap().remove("tanks");
    refused(&week, "not-identifiable", &["/feed/concentration", "/feed/spread"]);
}

#[test]
fn what_no_batch_reaches_is_unreachable() {
    let weak = batch(|question| {
        question["stocks"] = json!([{ "name": "premix", "concentration": 7 }]);
    });
    refused(&weak, "unreachable", &["/target/concentration"]);
    let short = batch(|question| {
        question["target"]["mixing"] = "stirred_tank".into();
        question["stocks"] = json!([{ "name": "neat", "concentration": 100, "volume": 3 }]);
    });
    refused(&short, "unreachable", &["/stocks"]);
    let salty = batch(|question| {
        question["target"]["mixing"] = "stirred_tank".into();
        question["target"]["limits"]["chloride"] = json!({ "max": 50 });
        question["stocks"] = json!([{ "name": "neat", "concentration": 100 }]);
    });
    refused(&salty, "unreachable", &["/target/limits/chloride/max"]);
    let spotless = batch(|q| q["target"]["limits"]["solids"]["max"] = 0.into());
    refused(&spotless, "unreachable", &["/target/limits/solids/max"]);
    let spotless = batch(|question| {
        question["mode"] = "recirculate".into();
        question["target"]["limits"]["solids"]["max"] = 0.into();
    });
    refused(&spotless, "unreachable", &["/target/limits/solids/max"]);
}
