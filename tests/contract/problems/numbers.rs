//! Impossible numbers, in a document and in an address, one at a time and several at once.

use super::{posted, top_up};
use crate::assert_problem;
use crate::server::{get, post};
use serde_json::Value;

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
    // Numbers too large for a computer, in JSON and in an address.
    let infinite = "{\"units\":\"metric\",\"sump\":{\"capacity\":1e999}}";
    assert_problem(posted(infinite), 422, "out-of-range", &["/sump/capacity"]);
    let address = "/v1/top-up?units=us&sump.capacity=NaN&sump.volume=1&target.concentration=5";
    assert_problem(get(address), 422, "out-of-range", &["/sump/capacity"]);
    // Outside the exact bound in the units of the request, though not in the other system.
    let too_big = top_up(|question| {
        question["units"] = "us".into();
        question["sump"]["capacity"] = 3e8.into();
    });
    let problem =
        assert_problem(post("/v1/top-up", &too_big), 422, "out-of-range", &["/sump/capacity"]);
    assert!(problem["detail"].as_str().unwrap().contains("US gal"), "{problem}");
}

/// A transmitter's float32 is a little more than full: what is refused must not read as what is right.
#[test]
fn a_number_that_is_refused_does_not_read_as_one_that_is_not() {
    for (volume, concentration, words) in [
        (200.00001, 7.0, "200.00001 L in a capacity of 200 L"),
        (140.0, 100.0000001, "100.0000001 is out of range"),
        (1_000_000_001.0, 7.0, "1000000001 is out of range"),
        (1e308, 7.0, "1e308 is out of range"),
        (240.0, 7.0, "240 L in a capacity of 200 L"),
    ] {
        let question = top_up(|question| {
            question["sump"]["volume"] = volume.into();
            question["sump"]["concentration"] = concentration.into();
        });
        let problem: Value = post("/v1/top-up", &question).json().expect("a problem");
        let detail = problem["detail"].as_str().expect("a sentence");
        assert!(detail.contains(words), "{detail}");
    }
}
