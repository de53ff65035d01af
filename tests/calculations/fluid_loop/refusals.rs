//! Loops that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use crate::service;
use serde_json::{Value, json};

fn example() -> Value {
    serde_json::from_str(service("fluid-loop").example).expect("an example is JSON")
}

fn changed(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example();
    change(&mut question);
    question
}

#[track_caller]
fn refused(kind: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    assert_problem(post("/v1/fluid-loop", &changed(change)), 422, kind, pointers)
}

#[test]
fn what_contradicts_itself_is_refused_at_its_place() {
    refused("inconsistent", &["/groups/1/name"], |q| q["groups"][1]["name"] = "lathes".into());
    refused("inconsistent", &["/groups/0/count"], |q| q["groups"][0]["count"] = 0.into());
    refused("inconsistent", &["/groups/0/clean_out/every_months"], |q| {
        q["groups"][0]["clean_out"]["every_months"] = 3.into();
    });
    refused("inconsistent", &["/groups/0/clean_out/every_days"], |q| {
        q["groups"][0]["clean_out"]["every_days"] = 0.5.into();
    });
    refused("inconsistent", &["/groups/0/clean_out/residue"], |q| {
        q["groups"][0]["clean_out"]["residue"] = 180.into();
    });
    refused("inconsistent", &["/groups/0/losses/depletion_ratio"], |q| {
        q["groups"][0]["losses"]["depletion_ratio"] = 17.into();
    });
    refused("inconsistent", &["/groups/2/gains/tramp_oil/amount"], |q| {
        q["groups"][2]["gains"]["tramp_oil"]["amount"] = 19.5.into();
    });
    refused("inconsistent", &["/groups/0/gains/fines/rise"], |q| {
        q["groups"][0]["gains"]["fines"]["rise"] = 3.into();
    });
    refused("inconsistent", &["/groups/0/carries_now/tramp_oil"], |q| {
        q["groups"][0]["carries_now"] = json!({ "tramp_oil": 95 });
    });
    refused("inconsistent", &["/water/properties/tramp_oil"], |q| {
        q["water"]["properties"]["tramp_oil"] = 1.into();
    });
    refused("inconsistent", &["/concentrate/properties"], |q| {
        q["concentrate"]["properties"]["chloride"] = 980_000.into();
    });
    refused("inconsistent", &["/limits/chloride/min"], |q| {
        q["limits"]["chloride"]["min"] = 300.into();
    });
    refused("inconsistent", &["/limits/tramp_oil/min"], |q| {
        q["limits"]["tramp_oil"]["min"] = 3.into();
    });
    // All of it at once.
    refused("inconsistent", &["/groups/0/count", "/limits/chloride/min"], |q| {
        q["groups"][0]["count"] = 0.into();
        q["limits"]["chloride"]["min"] = 300.into();
    });
}

#[test]
fn tanks_have_to_take_a_day_s_work() {
    let fuller = refused("inconsistent", &["/tanks/dirty/holds"], |q| {
        q["tanks"]["dirty"]["holds"] = 1501.into();
    });
    let detail = fuller["errors"][0]["detail"].as_str().unwrap();
    assert!(detail.contains("1501 L in a capacity of 1500 L"), "{detail}");
    refused("inconsistent", &["/tanks/dirty/capacity", "/tanks/clean/capacity"], |q| {
        q["tanks"]["dirty"]["capacity"] = 650.into();
        q["tanks"]["clean"]["capacity"] = 510.into();
    });
}

#[test]
fn what_is_missing_is_named() {
    refused("not-identifiable", &["/groups/3/clean_out/every_days"], |q| {
        q["groups"][3]["clean_out"] = json!({ "residue": 45 });
    });
    refused("not-identifiable", &["/groups/0/gains/chloride/amount"], |q| {
        q["groups"][0]["gains"]["chloride"] = json!({ "rise": null });
    });
    refused("not-identifiable", &["/limits/nitrite"], |q| {
        q["limits"]["nitrite"] = json!({ "max": 20 });
    });
    refused("not-identifiable", &["/groups/0/losses/carry_off"], |q| {
        let group = &mut q["groups"][0];
        group.as_object_mut().unwrap().remove("clean_out");
        group["losses"]["carry_off"] = 0.into();
    });
}

/// A loop that nothing leaves has no steady state, and a sump cannot be all oil.
#[test]
fn what_never_settles_is_refused() {
    refused("unreachable", &["/recycler/lost"], |q| {
        for group in q["groups"].as_array_mut().unwrap() {
            group["losses"]["carry_off"] = 0.into();
            group["takes_recycled"] = "refills_and_make_up".into();
            group["gains"] = json!({});
            group["concentration"] = 6.into();
        }
        q["recycler"] = json!({ "lost": 0 });
        q["limits"] = json!({});
    });
    refused("unreachable", &["/groups/3/gains/tramp_oil/amount"], |q| {
        q["groups"][3]["gains"]["tramp_oil"]["amount"] = 19.9.into();
        q["groups"][3]["losses"]["evaporation"] = 60.into();
    });
}

#[test]
fn a_way_too_long_for_the_shop_is_refused() {
    let long = refused("out-of-range", &["/days"], |q| q["days"] = 4000.into());
    assert!(long["detail"].as_str().unwrap().contains("3650"), "{long}");
}

/// A line a day in which 91 properties are followed: 2,000 days of 100, and 200,000 lines in all, find
/// room in an answer.
#[test]
fn days_are_refused_before_they_are_followed_where_the_answer_has_no_room_for_them() {
    let with = |days: u32| {
        let mut question = example();
        let held = question["water"]["properties"].as_object_mut().expect("properties");
        for number in held.len()..88 {
            held.insert(format!("salt_{number}"), 1.into());
        }
        question["days"] = days.into();
        question
    };
    let problem =
        assert_problem(post("/v1/fluid-loop", &with(3600)), 422, "out-of-range", &["/days"]);
    let detail = problem["detail"].as_str().expect("a sentence");
    assert!(detail.contains("3600 were asked for"), "{detail}");
    let most = detail.split_once("followed for ").expect("the most").1;
    let most: u32 = most.split(' ').next().expect("a number").parse().expect("a number");
    assert!((2000..2400).contains(&most), "{detail}");
}
