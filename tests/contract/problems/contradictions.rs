//! Numbers that cannot be, and members that contradict each other.

use super::{posted, top_up};
use crate::assert_problem;
use crate::server::{get, post};
use serde_json::json;

#[test]
fn two_faults_come_back_as_two() {
    let two = top_up(|question| {
        question["sump"]["volume"] = (-1).into();
        question["target"]["concentration"] = 130.into();
    });
    let pointers = ["/sump/volume", "/target/concentration"];
    let problem = assert_problem(post("/v1/top-up", &two), 422, "out-of-range", &pointers);
    assert!(problem["errors"][0]["detail"].as_str().unwrap().contains("from 0 to"), "{problem}");

    let both = top_up(|question| {
        question["sump"]["volume"] = 240.into();
        question["target"]["volume"] = 300.into();
    });
    let pointers = ["/sump/volume", "/target/volume"];
    assert_problem(post("/v1/top-up", &both), 422, "inconsistent", &pointers);
}

#[test]
fn a_number_that_cannot_be_is_out_of_range() {
    let too_strong = top_up(|q| q["target"]["concentration"] = 130.into());
    let problem = post("/v1/top-up", &too_strong);
    assert_problem(problem, 422, "out-of-range", &["/target/concentration"]);
    // More than a number can be, in JSON and in an address.
    let infinite = "{\"units\":\"metric\",\"sump\":{\"capacity\":1e999}}";
    assert_problem(posted(infinite), 422, "out-of-range", &["/sump/capacity"]);
    let address = "/v1/top-up?units=us&sump.capacity=NaN&sump.volume=1&target.concentration=5";
    assert_problem(get(address), 422, "out-of-range", &["/sump/capacity"]);
    // Past the exact bound in the units of the request, though not in the others'.
    let too_big = top_up(|question| {
        question["units"] = "us".into();
        question["sump"]["capacity"] = 3e8.into();
    });
    let problem =
        assert_problem(post("/v1/top-up", &too_big), 422, "out-of-range", &["/sump/capacity"]);
    assert!(problem["detail"].as_str().unwrap().contains("US gal"), "{problem}");
}

#[test]
fn a_temperature_outside_the_table_is_out_of_range() {
    let reading = json!({ "method": "refractometer", "brix": 5, "factor": 1, "temperature": 31 });
    let hot = json!({ "units": "metric", "reading": reading });
    let problem = post("/v1/concentration", &hot);
    assert_problem(problem, 422, "out-of-range", &["/reading/temperature"]);
}

#[test]
fn a_reading_that_stands_for_more_than_everything_is_inconsistent() {
    let reading = json!({ "method": "refractometer", "brix": 60, "factor": 2 });
    let problem = post("/v1/concentration", &json!({ "units": "us", "reading": reading }));
    assert_problem(problem, 422, "inconsistent", &["/reading"]);
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

    let band = json!({
        "units": "metric",
        "reading": { "method": "refractometer", "brix": 5, "factor": 1 },
        "band": { "low": 8, "target": 6, "high": 5 },
    });
    let pointers = ["/band/low", "/band/high"];
    assert_problem(post("/v1/concentration", &band), 422, "inconsistent", &pointers);

    let names = json!({
        "units": "metric",
        "target": { "volume": 10, "concentration": 5 },
        "stocks": [
            { "name": "water", "concentration": 0, "properties": { "tramp_oil": 101 } },
            { "name": "water", "concentration": 100 },
        ],
        "goal": { "most_of": "wter" },
    });
    assert_problem(
        post("/v1/blend", &names),
        422,
        "out-of-range",
        &["/stocks/0/properties/tramp_oil"],
    );
    let mut names = names;
    names["stocks"][0]["properties"]["tramp_oil"] = 1.into();
    names["stocks"][1]["properties"] = json!({ "tramp_oil": 0.5 });
    names["limits"] = json!({ "tramp_oil": { "min": 2, "max": 1 } });
    let pointers = [
        "/stocks/1/name",
        "/stocks/1/properties/tramp_oil",
        "/goal/most_of",
        "/limits/tramp_oil/min",
    ];
    let problem = assert_problem(post("/v1/blend", &names), 422, "inconsistent", &pointers);
    assert!(problem["errors"][2]["detail"].as_str().unwrap().contains("\"water\""), "{problem}");
}

#[test]
fn a_sump_that_may_not_be_drained_cannot_hold_less() {
    let less = top_up(|question| {
        question["target"]["volume"] = 100.into();
        question["draining"] = "not_allowed".into();
    });
    assert_problem(post("/v1/top-up", &less), 422, "inconsistent", &["/target/volume"]);
}
