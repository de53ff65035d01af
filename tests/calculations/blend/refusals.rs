//! Blends that are refused, over HTTP.

use crate::assert_problem;
use crate::server::post;
use serde_json::json;

#[test]
fn members_that_contradict_each_other_are_inconsistent() {
    let names = json!({
        "units": "metric",
        "target": { "volume": 10, "concentration": 5 },
        "stocks": [
            { "name": "water", "concentration": 0, "properties": { "tramp_oil": 101 } },
            { "name": "water", "concentration": 100 },
        ],
        "goal": { "most_of": "wter" },
    });
    assert_problem(
        post("/v1/blend", &names),
        422,
        "out-of-range",
        &["/stocks/0/properties/tramp_oil"],
    );
    let mut names = names;
    names["stocks"][0]["properties"]["tramp_oil"] = 1.into();
    names["stocks"][1]["properties"] = json!({ "tramp_oil": 0.5 });
    names["limits"] = json!({ "tramp_oil": { "min": 2, "max": 1 } });
    let pointers = [
        "/stocks/1/name",
        "/stocks/1/properties/tramp_oil",
        "/goal/most_of",
        "/limits/tramp_oil/min",
    ];
    let problem = assert_problem(post("/v1/blend", &names), 422, "inconsistent", &pointers);
    assert!(problem["errors"][2]["detail"].as_str().unwrap().contains("\"water\""), "{problem}");
}

#[test]
fn what_no_batch_does_is_unreachable_and_says_what_can_be_reached() {
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

/// No answer tells anybody to add more biocide.
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
fn a_limit_on_what_no_stock_carries_is_not_identifiable() {
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
}

/// Concentrations from 3e-9 to 32 % in one batch of half a millilitre: the solver finds
/// an answer and cannot prove it. A doubtful batch is not given.
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
