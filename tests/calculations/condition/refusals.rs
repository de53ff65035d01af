//! Questions about a condition that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use serde_json::{Value, json};

#[track_caller]
fn refused(slug: &str, pointers: &[&str], question: Value) {
    let mut question = question;
    question["units"] = "metric".into();
    assert_problem(post("/v1/condition", &question), 422, slug, pointers);
}

#[test]
fn what_tells_nothing_is_refused() {
    refused("not-identifiable", &[""], json!({}));
    // A strength without a band and a chloride without a limit tell nothing.
    refused("not-identifiable", &[""], json!({ "concentration": 6 }));
    refused("not-identifiable", &[""], json!({ "chloride": { "content": 80 } }));
}

#[test]
fn what_contradicts_itself_is_refused() {
    let reading = json!({ "method": "refractometer", "brix": 5, "factor": 1.2 });
    refused(
        "inconsistent",
        &["/concentration"],
        json!({ "reading": reading, "concentration": 6, "smell": "fresh" }),
    );
    let band = json!({ "low": 7, "target": 6, "high": 8 });
    refused("inconsistent", &["/band/low"], json!({ "band": band, "smell": "fresh" }));
    refused("out-of-range", &["/ph/now"], json!({ "ph": { "now": 15 } }));
}
