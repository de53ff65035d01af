//! Forecasts that are refused, over HTTP.

use super::laws::example;
use crate::assert_problem;
use crate::server::post;
use serde_json::{Value, json};

/// The example with a change, refused.
#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example("forecast");
    change(&mut question);
    assert_problem(post("/v1/forecast", &question), 422, slug, pointers)
}

#[test]
fn a_forecast_is_refused_where_it_contradicts_itself() {
    refused("out-of-range", &["/days"], |q| q["days"] = 3661.into());
    refused("out-of-range", &["/days"], |q| q["days"] = 0.into());
    refused("out-of-range", &["/feeding/days"], |q| q["feeding"]["days"] = 0.01.into());
    refused("inconsistent", &["/sump/volume"], |q| q["sump"]["volume"] = 0.into());
    refused("inconsistent", &["/sump/volume"], |q| q["sump"]["volume"] = 201.into());
    refused("inconsistent", &["/band/low", "/levels/min"], |q| {
        q["band"]["low"] = 8.into();
        q["levels"]["min"] = 250.into();
    });
    refused("inconsistent", &["/limits/tramp_oil/min"], |q| {
        q["limits"]["tramp_oil"]["min"] = 2.into();
    });
    refused("inconsistent", &["/losses/depletion_ratio"], |q| {
        q["losses"]["depletion_ratio"] = 14.into();
    });
    refused("inconsistent", &["/feeding/to"], |q| q["feeding"]["to"] = 201.into());
    refused("inconsistent", &["/feeding/level"], |q| {
        q["feeding"] = json!({ "when": "below", "level": 200, "with": q["feeding"]["with"] });
    });
    refused("inconsistent", &["/feeding/with/properties/tramp_oil"], |q| {
        q["feeding"]["with"]["properties"]["tramp_oil"] = 98.into();
    });
    refused("inconsistent", &["/feeding/with/water/properties/tramp_oil"], |q| {
        let water = json!({ "properties": { "tramp_oil": 100 } });
        q["feeding"]["with"] = json!({ "kind": "water_and_concentrate", "water": water });
    });
    refused("inconsistent", &["/feeding/with/concentrate/properties/tramp_oil"], |q| {
        let neat = json!({ "properties": { "tramp_oil": 1 } });
        q["feeding"]["with"] = json!({ "kind": "water_and_concentrate", "concentrate": neat });
    });
    refused("inconsistent", &["/changes/0/day", "/changes/1"], |q| {
        q["changes"] = json!([{ "day": 61, "removed": { "volume": 1 } }, { "day": 3 }]);
    });
    refused("inconsistent", &["/changes/0/added/properties/tramp_oil"], |q| {
        q["changes"][0]["added"]["properties"]["tramp_oil"] = 90.into();
    });
    // The later of the two by day, the first in the request.
    refused("inconsistent", &["/changes/0/removed/volume"], |q| {
        q["changes"] = json!([
            { "day": 3, "removed": { "volume": 190 } },
            { "day": 2, "removed": { "volume": 10 } },
        ]);
    });
}

#[test]
fn a_forecast_is_refused_where_something_is_not_said_or_is_too_much() {
    refused("not-identifiable", &["/sump/concentration"], |q| {
        q["sump"].as_object_mut().unwrap().remove("concentration");
    });
    refused("not-identifiable", &["/feeding/with/target"], |q| {
        q.as_object_mut().unwrap().remove("band");
        q["feeding"]["with"] = json!({ "kind": "water_and_concentrate" });
    });
    let pointers = ["/limits/chlorides", "/feeding/with/target"];
    refused("not-identifiable", &pointers, |q| {
        q.as_object_mut().unwrap().remove("band");
        q["limits"]["chlorides"] = json!({ "max": 500 });
        q["feeding"]["with"] = json!({ "kind": "water_and_concentrate" });
    });
    refused("out-of-range", &["/feeding"], |q| {
        q["feeding"] = json!({
            "when": "below", "level": 199.999, "to": 200, "with": q["feeding"]["with"],
        });
    });
}
