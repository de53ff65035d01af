//! Calendars that are refused, over HTTP.

use super::small;
use crate::assert_problem;
use crate::server::post;
use serde_json::{Value, json};

#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> String {
    let problem = assert_problem(post("/v1/calendar", &small(change)), 422, slug, pointers);
    problem["errors"][0]["detail"].as_str().expect("a sentence").to_owned()
}

#[test]
fn days_that_cannot_be_are_refused() {
    refused("out-of-range", &["/from"], |q| q["from"] = "4.1.2027".into());
    refused("out-of-range", &["/sumps/1/cleaned_on", "/crews/0/away/0/to"], |q| {
        q["sumps"][1]["cleaned_on"] = "2026-02-30".into();
        q["crews"][0]["away"] = json!([{ "from": "2027-01-08", "to": "next week" }]);
    });
}

#[test]
fn what_contradicts_itself_is_refused_all_at_once() {
    refused("inconsistent", &["/weeks"], |q| q["weeks"] = 200.into());
    refused("inconsistent", &["/sumps/2/name", "/sumps/0/shortest_days"], |q| {
        q["sumps"][2]["name"] = "mill".into();
        q["sumps"][0]["shortest_days"] = 70.into();
    });
    let said = refused("inconsistent", &["/sumps/0/product"], |q| {
        q["sumps"][0]["product"] = "product a".into();
    });
    assert!(said.contains("product A"), "{said}");
    let said = refused("inconsistent", &["/agreed/0/sump"], |q| {
        q["agreed"] = json!([{ "sump": "lahte", "day": "2027-01-08" }]);
    });
    assert!(said.contains("lathe"), "{said}");
    refused("inconsistent", &["/agreed/0/day"], |q| {
        q["agreed"] = json!([{ "sump": "lathe", "day": "2027-01-07", "fixed": true }]);
    });
    let said = refused("inconsistent", &["/sumps/0/cleaned_on"], |q| {
        q["sumps"][0]["cleaned_on"] = "2027-01-08".into();
    });
    assert!(said.contains("belongs in agreed"), "{said}");
    refused("inconsistent", &["/closed/0/to", "/recycler/level"], |q| {
        q["closed"] = json!([{ "from": "2027-01-08", "to": "2027-01-07" }]);
        q["recycler"] = json!({ "tank": 500, "level": 600, "throughput": 10, "recovered": 50 });
    });
    refused("inconsistent", &["/moving_price"], |q| q["moving_price"] = (-1).into());
}

/// A plan that passes an interval is never given.
#[test]
fn an_interval_that_cannot_be_held_is_refused_with_what_would_have_to_change() {
    let said = refused("unreachable", &["/sumps/1/hours"], |q| q["sumps"][1]["hours"] = 9.into());
    assert!(said.contains("no crew has more than 4 h on a day"), "{said}");
    refused("unreachable", &["/sumps/1/volume"], |q| q["crews"][0]["fluid_a_day"] = 250.into());
    let said = refused("unreachable", &["/sumps/0/longest_days", "/sumps/2/longest_days"], |q| {
        q["crews"][0]["away"] = json!([{ "from": "2027-01-08", "to": "2027-02-07" }]);
    });
    assert!(said.starts_with("Between ") && said.contains("lathe"), "{said}");
    let said = refused("unreachable", &["/sumps/2/longest_days"], |q| {
        q["sumps"][2]["only_standing"] = true.into();
    });
    assert!(said.contains("only_standing"), "{said}");
}

/// Three clean-outs of three hours on the only day there is, which has six: no plan has them, whatever
/// is moved.
#[test]
fn too_few_hours_are_refused_with_a_proof() {
    let said = refused("unreachable", &["/crews/0/hours_a_day"], |q| {
        for i in 0..3 {
            q["sumps"][i]["hours"] = 3.into();
            q["sumps"][i]["due_by"] = "2027-01-10".into();
        }
        q["crews"][0]["hours_a_day"] = 6.into();
    });
    assert!(said.contains("No plan keeps all intervals and limits, whatever is moved."), "{said}");
    assert!(said.contains("3 h in all, first from Friday 2027-01-08 on"), "{said}");
}

/// A price that no money holds.
#[test]
fn numbers_too_far_apart_are_refused() {
    refused("unproven", &[""], |q| {
        q["products"][0]["price"] = 1e9.into();
        q["sumps"][0]["volume"] = 1e9.into();
    });
}
