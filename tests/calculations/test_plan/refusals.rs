//! Plans of tests that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use crate::support::changed;
use serde_json::Value;

#[track_caller]
fn refused(status: u16, slug: &str, pointers: &[&str], change: impl FnOnce(&mut Value)) {
    assert_problem(post("/v1/test-plan", &changed("test-plan", change)), status, slug, pointers);
}

#[test]
fn days_that_cannot_be_are_refused() {
    refused(422, "inconsistent", &["/machines/0/ph_on"], |q| {
        q["machines"][0]["ph_on"] = "2026-12-01".into();
    });
    refused(422, "inconsistent", &["/machines/1/name"], |q| {
        q["machines"][1]["name"] = "lathe 1".into();
    });
    refused(422, "inconsistent", &["/days_ahead"], |q| q["days_ahead"] = 400.into());
    refused(422, "inconsistent", &["/intervals/strength_days"], |q| {
        q["intervals"]["strength_days"] = 0.5.into();
    });
    refused(400, "malformed", &["/today"], |q| q["today"] = "30.11.2026".into());
}
