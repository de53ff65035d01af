//! Doses that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use crate::support::changed;
use serde_json::{Value, json};

/// The example with a change, refused.
#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    assert_problem(post("/v1/dose", &changed("dose", change)), 422, slug, pointers)
}

#[test]
fn what_contradicts_itself_is_refused() {
    refused("inconsistent", &["/sump/volume"], |q| q["sump"]["capacity"] = 150.into());
    refused("inconsistent", &["/product/active_share"], |q| {
        q["product"]["active_share"] = 0.into();
    });
    refused("inconsistent", &["/product/half_life_days"], |q| {
        q["product"]["half_life_days"] = 0.into();
    });
    refused("inconsistent", &["/product/label/least"], |q| {
        q["product"]["label"]["least"] = 1600.into();
    });
    refused("inconsistent", &["/lasts_to"], |q| q["lasts_to"] = 1600.into());
    refused("inconsistent", &["/last_dose/days_ago"], |q| {
        q["now"] = 900.into();
        q["last_dose"]["days_ago"] = 0.into();
    });
}

#[test]
fn what_the_label_forbids_is_refused_with_what_it_allows() {
    let above = refused("unreachable", &["/wanted"], |q| q["wanted"] = 3000.into());
    let detail = above["errors"][0]["detail"].as_str().expect("a sentence");
    assert!(detail.contains("its label allows 1500 mg/L"), "{detail}");
    let below = refused("unreachable", &["/wanted"], |q| {
        q["now"] = 1300.into();
    });
    assert!(below["errors"][0]["detail"].as_str().expect("a sentence").contains("500 mg/L"));
    let soon = refused("unreachable", &["/last_dose/days_ago"], |q| {
        q["last_dose"] = json!({ "content": 900, "days_ago": 5 });
    });
    let detail = soon["errors"][0]["detail"].as_str().expect("a sentence");
    assert!(detail.ends_with("dose again in 2 days at the earliest."), "{detail}");
}

#[test]
fn losses_that_nothing_says_are_asked_for() {
    refused("not-identifiable", &["/losses/carry_off"], |q| {
        q["losses"] = json!({ "evaporation": 6 });
    });
}
