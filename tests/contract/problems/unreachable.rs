//! Questions without an answer: what no batch does, what the data cannot tell, what
//! cannot be proven.

use super::top_up;
use crate::assert_problem;
use crate::server::post;
use serde_json::json;

#[test]
fn what_no_batch_does_is_unreachable_and_says_what_can_be_reached() {
    let weak = top_up(|question| {
        question["stocks"] = json!([
            { "name": "premix", "concentration": 5 },
            { "name": "water", "concentration": 0 },
        ]);
    });
    let problem =
        assert_problem(post("/v1/top-up", &weak), 422, "unreachable", &["/target/concentration"]);
    // 140 L at 7 % and 60 L at 5 % are 200 L at 6.4 %.
    let high = problem["reachable"]["concentration"]["high"].as_f64().unwrap();
    assert!((high - 6.4).abs() < 1e-12, "{problem}");

    let short = json!({
        "units": "us",
        "target": { "volume": 100, "concentration": 6 },
        "stocks": [
            { "name": "concentrate", "concentration": 100, "volume": 3 },
            { "name": "water", "concentration": 0 },
        ],
    });
    let problem =
        assert_problem(post("/v1/blend", &short), 422, "unreachable", &["/target/concentration"]);
    // Three gallons of concentrate in a hundred, or in fifty at 6 %.
    let reachable = &problem["reachable"];
    assert!((reachable["concentration"]["high"].as_f64().unwrap() - 3.0).abs() < 1e-9, "{problem}");
    assert!((reachable["volume"]["high"].as_f64().unwrap() - 50.0).abs() < 1e-6, "{problem}");

    let empty = top_up(|question| {
        question["stocks"] = json!([{ "name": "premix", "concentration": 9, "volume": 10 }]);
    });
    let problem =
        assert_problem(post("/v1/top-up", &empty), 422, "unreachable", &["/target/volume"]);
    assert_eq!(problem["reachable"]["volume"]["high"], 150.0);
}

#[test]
fn a_limit_that_cannot_be_kept_is_named_with_what_can() {
    let hard = json!({
        "units": "metric",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "tap", "concentration": 0, "properties": { "hardness": 200 } },
            { "name": "well", "concentration": 0, "properties": { "hardness": 300 } },
        ],
        "limits": { "hardness": { "max": 100 } },
    });
    let problem =
        assert_problem(post("/v1/blend", &hard), 422, "unreachable", &["/limits/hardness/max"]);
    // 95 % of tap water at 200 mg/L.
    assert!(problem["detail"].as_str().unwrap().contains("190 mg/L"), "{problem}");
}

/// Nobody is told to bring more biocide.
#[test]
fn a_biocide_is_left_to_its_label() {
    let weak = json!({
        "units": "metric",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": [
            { "name": "concentrate", "concentration": 100, "properties": { "biocide": 900 } },
            { "name": "water", "concentration": 0 },
        ],
        "limits": { "biocide": { "min": 1500 } },
    });
    let problem =
        assert_problem(post("/v1/blend", &weak), 422, "unreachable", &["/limits/biocide/min"]);
    let detail = problem["detail"].as_str().unwrap();
    assert!(detail.contains("45 mg/L") && detail.contains("by its label"), "{problem}");
    assert!(!detail.contains("carries more"), "{problem}");
}

#[test]
fn what_the_data_cannot_tell_is_not_identifiable() {
    let unknown = top_up(|question| {
        question["sump"].as_object_mut().unwrap().remove("concentration");
    });
    let problem = post("/v1/top-up", &unknown);
    assert_problem(problem, 422, "not-identifiable", &["/sump/concentration"]);

    let limit = json!({
        "units": "metric",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "tap", "concentration": 0, "properties": { "hardness": 200 } },
        ],
        "limits": { "hardnes": { "max": 100 } },
    });
    let problem =
        assert_problem(post("/v1/blend", &limit), 422, "not-identifiable", &["/limits/hardnes"]);
    assert!(problem["detail"].as_str().unwrap().contains("\"hardness\"?"), "{problem}");

    let oil_free =
        json!({ "method": "acid_split", "sample_ml": 100, "split_ml": 3, "oil_share": 0 });
    let problem = post("/v1/concentration", &json!({ "units": "metric", "reading": oil_free }));
    assert_problem(problem, 422, "not-identifiable", &["/reading/oil_share"]);
}

/// Strengths from 3e-9 to 32 % in one batch of half a millilitre: the solver finds
/// something and cannot prove it. A doubtful batch is not given.
#[test]
fn what_cannot_be_proven_is_not_answered() {
    let scattered = json!({
        "units": "metric",
        "target": { "volume": 0.0006100439832538113, "concentration": 3.459673207621699e-8 },
        "stocks": [
            {
                "name": "s0", "concentration": 5.362847546651545e-7,
                "unit_cost": 1.301939172275613e-13,
                "properties": { "hardness": 1.5107478816125555e-10 }
            },
            {
                "name": "s1", "concentration": 2.960323840852148e-9,
                "unit_cost": 1176.6970857103042,
                "properties": { "hardness": 4.211689867150001e-5 }
            },
            {
                "name": "s2", "concentration": 31.99437766263627, "volume": 688.8986643925072,
                "unit_cost": 2.7327149302529197,
                "properties": { "hardness": 6.362616614945418e-6 }
            },
        ],
        "limits": { "hardness": { "max": 3089.737983956424 } },
    });
    assert_problem(post("/v1/blend", &scattered), 422, "unproven", &["/stocks"]);
}
