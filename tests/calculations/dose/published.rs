//! Doses against arithmetic by hand and numerical integration.

use crate::{assert_near, number, solve};
use serde_json::{Value, json};

/// By hand: 160 L at 1,500 mg/L are 240 g, and at 1.05 kg/L 240/1.05 = 228.571 mL.
#[test]
fn a_dose_by_hand() {
    let question = json!({
        "units": "metric",
        "sump": { "volume": 160 },
        "product": { "name": "biocide A", "kind": "biocide", "density": 1.05 },
        "wanted": 1500,
    });
    let record = solve("dose", &question).expect("an answer");
    assert_near(number(&record, "/answer/mass"), 0.240, 1e-12);
    assert_near(number(&record, "/answer/volume"), 228.571, 5e-4);
    assert_near(number(&record, "/answer/dose"), 1500.0, 1e-9);
    // Half of it active: twice the product for the same content of what is active.
    let mut half = question.clone();
    half["product"]["active_share"] = 50.into();
    let record = solve("dose", &half).expect("an answer");
    assert_near(number(&record, "/answer/volume"), 457.143, 5e-4);
}

/// The label's count by hand: 1,500 mg/L on 160 L, of which the product itself takes up 0.229 L,
/// are 240,450 mg (229 mL as measured) in 160.229 L.
#[test]
fn the_content_afterwards_is_that_of_the_balance() {
    let question = json!({
        "units": "metric",
        "sump": { "volume": 160, "concentration": 6 },
        "product": { "name": "biocide A", "kind": "biocide", "density": 1.05 },
        "wanted": 1500,
    });
    let record = solve("dose", &question).expect("an answer");
    assert_near(number(&record, "/answer/measured"), 229.0, 1e-9);
    let content = 229.0 * 1050.0 / 160.229;
    assert_near(number(&record, "/answer/after/content"), content, 1e-9);
    assert_near(number(&record, "/answer/after/concentration"), 6.0 * 160.0 / 160.229, 1e-12);
}

/// What is left of a dose, what brings it back, and how long that lasts, integrated by scipy
/// (`doses.py`).
#[test]
fn what_is_carried_off_and_used_up_is_what_scipy_integrates() {
    let recorded: Value = serde_json::from_str(include_str!("doses.json")).expect("JSON");
    let cases = recorded["cases"].as_array().expect("cases");
    assert_eq!(cases.len(), 40);
    for case in cases {
        let record = solve("dose", &case["question"]).expect("an answer");
        for (ours, theirs) in [
            ("/answer/now", "/now"),
            ("/answer/mass", "/mass"),
            ("/answer/after/content", "/content"),
            ("/answer/lasts_days", "/lasts_days"),
        ] {
            let expected = number(case, theirs);
            assert_near(number(&record, ours), expected, 1e-8 * expected);
        }
    }
}
