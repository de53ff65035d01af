//! Measurements from which no volume can be calculated, over HTTP.

use crate::assert_problem;
use crate::server::post;
use crate::service;
use serde_json::{Value, json};

fn sump(change: impl FnOnce(&mut Value)) -> Value {
    let example = service("sump-volume").example;
    let mut question: Value = serde_json::from_str(example).expect("JSON");
    change(&mut question);
    question
}

#[track_caller]
fn no_volume(question: &Value, slug: &str, pointers: &[&str]) {
    assert_problem(post("/v1/sump-volume", question), 422, slug, pointers);
}

#[test]
fn measures_that_tell_no_volume_are_refused() {
    no_volume(&json!({ "units": "metric" }), "not-identifiable", &[""]);
    let flat = sump(|q| q["shape"]["compartments"][1]["width"] = 0.into());
    no_volume(&flat, "out-of-range", &["/shape/compartments/1/width"]);
    let fine = sump(|q| q["shape"]["dip_step"] = 0.001.into());
    no_volume(&fine, "out-of-range", &["/shape/dip_step"]);
    let over = sump(|q| q["shape"]["level"] = 450.into());
    no_volume(&over, "inconsistent", &["/shape/level"]);
    let corner = sump(|q| {
        q["shape"]["compartments"][0] = json!({
            "form": "l", "length": 1000, "width": 500, "cut_length": 1200, "cut_width": 100,
            "depth": 400,
        });
    });
    no_volume(&corner, "inconsistent", &["/shape/compartments/0/cut_length"]);
    let crowded = sump(|q| q["shape"]["displaced"][0]["volume"] = 900.into());
    no_volume(&crowded, "inconsistent", &["/shape/displaced"]);
    let nothing = sump(|q| q["dilution"]["added"] = 0.into());
    no_volume(&nothing, "not-identifiable", &["/dilution/added"]);
    let same = sump(|q| q["dilution"]["after"] = 8.into());
    no_volume(&same, "not-identifiable", &["/dilution/after"]);
    let stronger = sump(|q| q["dilution"]["after"] = 8.4.into());
    no_volume(&stronger, "inconsistent", &["/dilution/after"]);
    let unknown = sump(|q| {
        q["shape"].as_object_mut().unwrap().remove("length_u");
        q["dilution"].as_object_mut().unwrap().remove("strength_u");
    });
    no_volume(&unknown, "not-identifiable", &["/shape/length_u", "/dilution/strength_u"]);
}
