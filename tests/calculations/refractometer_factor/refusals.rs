//! Samples from which no factor can be calculated, over HTTP.

use super::calibration;
use crate::assert_problem;
use crate::server::post;
use serde_json::{Value, json};

#[track_caller]
fn no_factor(question: &Value, slug: &str, pointers: &[&str]) -> Value {
    let problem = assert_problem(post("/v1/refractometer-factor", question), 422, slug, pointers);
    assert_eq!(problem["reference"], "new drum");
    problem
}

#[test]
fn samples_that_tell_no_factor_are_refused() {
    no_factor(&calibration(&[(5.0, 4.0)]), "not-identifiable", &["/samples"]);
    no_factor(&calibration(&[(0.0, 0.1), (0.0, 0.2)]), "not-identifiable", &["/samples"]);
    let mut one_strength = calibration(&[(5.0, 4.0), (5.0, 4.1), (5.0, 4.0)]);
    one_strength["line"] = "with_offset".into();
    no_factor(&one_strength, "not-identifiable", &["/samples"]);
    let falling = calibration(&[(2.0, 6.0), (4.0, 4.0), (6.0, 2.0)]);
    no_factor(&falling, "inconsistent", &["/samples"]);
    let off = calibration(&[(4.0, 0.0), (6.0, 20.0), (8.0, 40.0)]);
    let problem = no_factor(&off, "inconsistent", &["/samples"]);
    assert!(problem["detail"].as_str().unwrap().contains("-40 °Brix"), "{problem}");
    let mut never = calibration(&[(2.0, 2.0), (4.0, 4.0)]);
    never["repeats"] = 0.into();
    no_factor(&never, "out-of-range", &["/repeats"]);
    let mut below = calibration(&[(0.0, 1.0), (4.0, 4.0), (8.0, 7.1)]);
    below["readings"] = json!([0.5, 3.0]);
    no_factor(&below, "inconsistent", &["/readings/0"]);
    let mut above = calibration(&[(0.0, 0.0), (40.0, 4.0), (80.0, 8.0)]);
    above["readings"] = json!([20.0]);
    no_factor(&above, "inconsistent", &["/readings/0"]);
}
