//! Projections of waste that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use crate::service;
use serde_json::{Value, json};

fn example() -> Value {
    serde_json::from_str(service("disposal").example).expect("an example is JSON")
}

/// The refusal over HTTP of the example with a change.
#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example();
    change(&mut question);
    assert_problem(post("/v1/disposal", &question), 422, slug, pointers)
}

#[test]
fn what_would_never_end_is_out_of_range() {
    refused("out-of-range", &["/months"], |q| q["months"] = 0.into());
    refused("out-of-range", &["/months"], |q| q["months"] = 241.into());
    refused("out-of-range", &["/sampling/draws"], |q| q["sampling"]["draws"] = 9.into());
    let groups = ["/groups/0/count", "/groups/0/change/every_months", "/groups/0/fines/dry_share"];
    refused("out-of-range", &groups, |q| {
        q["groups"][0]["count"] = 0.into();
        q["groups"][0]["change"]["every_months"] = 0.into();
        q["groups"][0]["fines"]["dry_share"] = 0.into();
    });
    let others = [
        "/groups/0/change/first_month",
        "/groups/0/change/over_months",
        "/groups/0/fines/every_months",
        "/groups/0/oil_leak/oil_in_skimmings",
        "/groups/1/filter/every_months",
        "/groups/2/change/hours",
    ];
    refused("out-of-range", &others, |q| {
        q["groups"][0]["change"]["first_month"] = 0.into();
        q["groups"][0]["change"]["over_months"] = 0.into();
        q["groups"][0]["fines"]["every_months"] = 0.into();
        q["groups"][0]["oil_leak"]["oil_in_skimmings"] = 0.into();
        q["groups"][1]["filter"]["every_months"] = 0.into();
        q["groups"][2]["change"]["hours"] = 0.into();
    });
    let terms = [
        "/streams/0/container/fill",
        "/streams/3/container/mass",
        "/storage/days",
        "/storage/mass",
        "/treatment/volume_reduction",
    ];
    refused("out-of-range", &terms, |q| {
        q["streams"][0]["container"]["fill"] = 0.into();
        q["streams"][3]["container"]["mass"] = 0.into();
        q["storage"] = json!({ "days": 0.5, "mass": 0 });
        q["treatment"] = json!({ "method": "evaporation", "volume_reduction": 0.5 });
    });
    // 20 groups over 240 months are 4,800 steps, drawn 5,000 times 24 million and more than
    // 20; in 5,000 parts each they are too many without a draw.
    let drawn_out = |q: &mut Value| {
        q["months"] = 240.into();
        q["sampling"]["draws"] = 5000.into();
        let mut group = q["groups"][1].clone();
        let groups = (0..20).map(|i| {
            group["name"] = format!("machining centres {i}").into();
            group.clone()
        });
        q["groups"] = groups.collect();
    };
    refused("out-of-range", &["/sampling/draws"], drawn_out);
    refused("out-of-range", &[""], |q| {
        drawn_out(q);
        for group in q["groups"].as_array_mut().expect("groups") {
            group["count"] = 5000.into();
            group["change"] =
                json!({ "habit": "calendar", "every_months": 5000, "over_months": 5000 });
        }
    });
}

#[test]
fn contradictions_are_refused_all_at_once() {
    let pointers = [
        "/groups/0/residue",
        "/groups/0/change/over_months",
        "/groups/1/losses/depletion_ratio",
        "/groups/1/properties/tramp_oil",
        "/water/properties/tramp_oil",
        "/recycler/recovered",
        "/streams/1/stream",
        "/streams/2/container",
        "/streams/5/price_per_container",
        "/storage",
    ];
    refused("inconsistent", &pointers, |q| {
        q["groups"][0]["residue"] = 220.into();
        q["groups"][0]["change"]["over_months"] = 7.into();
        q["groups"][1]["losses"]["depletion_ratio"] = 13.into();
        q["groups"][1]["properties"]["tramp_oil"] = 95.into();
        q["water"]["properties"]["tramp_oil"] = 1.into();
        q["recycler"]["recovered"] = 97.into();
        q["streams"][1]["stream"] = "spent_fluid".into();
        q["streams"][2]["container"] = json!({ "name": "drum" });
        q["streams"][5]["price_per_container"] = 5.into();
        q["storage"] = json!({ "changes_fall": "over_the_month" });
    });
    refused("inconsistent", &["/pickup_price"], |q| q["storage"] = Value::Null);
    refused("inconsistent", &["/streams/2/counts"], |q| {
        q["facts"]["oil_halogens_ppm"] = 1200.into();
    });
    refused("inconsistent", &["/storage/facility_far_away"], |q| {
        q["storage"] = json!({ "mass": 4000, "facility_far_away": true });
    });
    refused("inconsistent", &["/groups/1/name"], |q| {
        q["groups"][1]["name"] = q["groups"][0]["name"].clone();
    });
    refused("inconsistent", &["/groups/0/properties/tramp_oil"], |q| {
        q["groups"][0]["concentration"] = 0.into();
        q["groups"][0]["properties"]["tramp_oil"] = 100.into();
    });
    refused("inconsistent", &["/groups/1/filter/fluid_held"], |q| {
        q["groups"][1]["filter"]["fluid_held"] = 500.into();
    });
    refused("inconsistent", &["/groups/0/rinse"], |q| {
        q["groups"][0]["concentration"] = 99.into();
        q["groups"][0]["losses"]["depletion_ratio"] = 1.into();
        q["groups"][0].as_object_mut().expect("a group").remove("properties");
        q["groups"][0]["residue"] = 110.into();
    });
    refused("inconsistent", &["/groups/1/fines"], |q| {
        q["groups"][1]["fines"] = json!({ "mass_per_month": 900, "dry_share": 40 });
    });
}

#[test]
fn what_is_missing_is_named() {
    refused("not-identifiable", &["/sampling"], |q| q["sampling"] = Value::Null);
    refused("not-identifiable", &["/sampling"], |q| {
        for group in q["groups"].as_array_mut().expect("groups") {
            for member in ["losses_spread", "oil_leak", "fines"] {
                group.as_object_mut().expect("a group").remove(member);
            }
        }
        q["recycler"]["spread"] = Value::Null;
        q["groups"][1]["change"]["limits"] = json!({ "chloride": { "max": 180 } });
    });
    let pointers = ["/groups/1/change/limits/nitrite", "/groups/1/change/limits/chloride/min"];
    refused("not-identifiable", &pointers, |q| {
        q["groups"][1]["change"]["limits"] =
            json!({ "nitrite": { "max": 20 }, "chloride": { "min": 5, "max": 180 } });
    });
    refused("not-identifiable", &["/groups/1/change/limits"], |q| {
        q["groups"][1]["change"]["limits"] = json!({ "chloride": {} });
    });
}

#[test]
fn what_no_plan_reaches_is_unreachable() {
    let problem = refused("unreachable", &["/treatment/volume_reduction"], |q| {
        q["treatment"] = json!({ "method": "ultrafiltration", "volume_reduction": 60 });
    });
    let detail = problem["errors"][0]["detail"].as_str().expect("a detail");
    assert!(detail.contains("at most"), "{detail}");
}
