//! Questions about waters that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use crate::support::changed;
use serde_json::{Value, json};

#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) -> Value {
    assert_problem(post("/v1/water", &changed("water", change)), 422, slug, pointers)
}

#[test]
fn what_contradicts_itself_is_refused() {
    refused("inconsistent", &["/waters/1/name"], |q| q["waters"][1]["name"] = "town water".into());
    refused("inconsistent", &["/hardness/min"], |q| q["hardness"]["min"] = 12.into());
    refused("inconsistent", &["/waters/0/properties/hardness"], |q| {
        q["waters"][0]["properties"]["hardness"] = 250.into();
    });
    refused("inconsistent", &["/waters/0/properties/tramp_oil"], |q| {
        q["waters"][0]["properties"]["tramp_oil"] = 1.into();
    });
}

#[test]
fn what_is_not_known_is_asked_for() {
    refused("not-identifiable", &["/waters/1/hardness"], |q| {
        q["waters"][1].as_object_mut().expect("members").remove("hardness");
    });
    refused("not-identifiable", &["/limits/hardness"], |q| {
        q["limits"] = json!({ "hardness": { "max": 100 } });
    });
}

/// No blend of waters of 14 and 0.1 °dH has 20; the place named is one of this request.
#[test]
fn what_no_blend_reaches_is_refused_in_its_own_words() {
    let problem = refused("unreachable", &["/hardness/min"], |q| {
        q["hardness"] = json!({ "min": 20, "unit": "german_degrees" });
        q["limits"] = json!({});
    });
    assert!(!problem.to_string().contains("stocks"), "{problem:#}");
    let detail = problem["errors"][0]["detail"].as_str().expect("a sentence");
    assert!(detail.contains("One °dH is 17.848 mg/L"), "{detail}");
    refused("unreachable", &["/make"], |q| {
        for water in q["waters"].as_array_mut().expect("waters") {
            water["volume"] = 100.into();
        }
    });
}
