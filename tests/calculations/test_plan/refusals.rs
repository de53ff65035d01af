//! Plans of tests that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use crate::support::changed;
use serde_json::Value;

#[track_caller]
fn refused(slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) {
    assert_problem(post("/v1/test-plan", &changed("test-plan", change)), 422, slug, pointers);
}

#[test]
fn days_that_cannot_be_are_refused() {
    refused("inconsistent", &["/machines/0/ph_on"], |q| {
        q["machines"][0]["ph_on"] = "2026-12-01".into();
    });
    refused("inconsistent", &["/machines/1/name"], |q| {
        q["machines"][1]["name"] = "lathe 1".into();
    });
    refused("inconsistent", &["/days_ahead"], |q| q["days_ahead"] = 400.into());
    refused("inconsistent", &["/intervals/strength_days"], |q| {
        q["intervals"]["strength_days"] = 0.5.into();
    });
    refused("out-of-range", &["/today"], |q| q["today"] = "30.11.2026".into());
    refused("out-of-range", &["/machines/2/slide_on"], |q| {
        q["machines"][2]["slide_on"] = "2026-02-30".into();
    });
}
