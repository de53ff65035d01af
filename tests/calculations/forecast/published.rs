//! Sumps over time against closed forms and arithmetic of the trade.

use crate::{assert_near, number, solve};
use serde_json::json;

/// The transient at constant volume, V 500 L, E 15 and W 5 L/d, 200 mg/L in the
/// make-up and at first (scipy solve_ivp and closed form), in the course of the days.
const TRANSIENT: [(f64, f64); 3] =
    [(30.0, 355.50906759), (100.0, 579.27233530), (300.0, 770.12775898)];

#[test]
fn the_transient_is_met_to_the_last_printed_digit() {
    for concentration in [0.0, 8.0] {
        let question = json!({
            "units": "metric",
            "sump": {
                "capacity": 500, "volume": 500, "concentration": concentration,
                "properties": { "hardness": 200 },
            },
            "losses": { "evaporation": 15, "carry_off": 5 },
            "feeding": {
                "when": "always",
                "with": {
                    "kind": "water_and_concentrate",
                    "target": concentration,
                    "water": { "properties": { "hardness": 200 } },
                },
            },
            "days": 3000,
        });
        let record = solve("forecast", &question).expect("a course");
        for (day, content) in TRANSIENT {
            let row = format!("/answer/series/{day}");
            assert_near(number(&record, &format!("{row}/properties/hardness")), content, 1e-8);
            assert_near(number(&record, &format!("{row}/volume")), 500.0, 1e-9);
            assert_near(number(&record, &format!("{row}/concentration")), concentration, 1e-12);
        }
        assert_near(number(&record, "/answer/after/properties/hardness"), 800.0, 1e-9);
    }
}

/// Arithmetic of the trade: common practice, no source.
#[test]
fn a_tenth_evaporated_takes_eight_percent_to_nearly_nine() {
    let question = json!({
        "units": "metric",
        "sump": { "capacity": 200, "volume": 200, "concentration": 8 },
        "losses": { "evaporation": 4, "carry_off": 0 },
        "days": 5,
    });
    let record = solve("forecast", &question).expect("a course");
    assert_near(number(&record, "/answer/after/volume"), 180.0, 1e-12);
    assert_near(number(&record, "/answer/after/concentration"), 8.89, 5e-3);
    assert_near(number(&record, "/answer/after/concentration"), 80.0 / 9.0, 1e-12);
}

/// Arithmetic of the trade: common practice, no source.
#[test]
fn feeding_at_target_strength_drives_an_evaporating_sump_up() {
    let fed_with = |concentration: f64| {
        let question = json!({
            "units": "metric",
            "sump": { "capacity": 200, "volume": 200, "concentration": 8 },
            "losses": { "evaporation": 6, "carry_off": 6 },
            "feeding": {
                "when": "every", "days": 1,
                "with": { "kind": "premix", "concentration": concentration },
            },
            "band": { "low": 7.5, "target": 8, "high": 9 },
            "days": 120,
        });
        solve("forecast", &question).expect("a course")
    };
    let at_target = fed_with(8.0);
    assert!(number(&at_target, "/answer/after/concentration") > 12.0);
    assert_eq!(at_target["answer"]["crossings"][0]["what"], "concentration");
    assert_eq!(at_target["answer"]["crossings"][0]["side"], "above");
    // As much by air as by chips wants half strength: it swings around its target
    // from feeding to feeding.
    let half = fed_with(4.0);
    let fed = number(&half, "/answer/after/concentration");
    let found = number(&half, "/answer/series/120/concentration");
    assert!(fed < 8.0 && 8.0 < found);
    assert_near(fed.midpoint(found), 8.0, 0.01);
}
