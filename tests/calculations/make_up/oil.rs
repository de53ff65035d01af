//! Oil that leaks into a held sump, and the skimmer against it.

use crate::server::post;
use crate::support::assert_problem;
use crate::{assert_near, number, solve};
use serde_json::{Value, json};

#[expect(clippy::needless_pass_by_value, reason = "made where it is handed over")]
fn held(oil: Value, most: Option<f64>) -> Value {
    let mut question = json!({
        "units": "metric",
        "sump": { "volume": 200, "concentration": 8, "properties": { "tramp_oil": 0.5 } },
        "losses": { "evaporation": 5, "carry_off": 3 },
        "oil": oil,
    });
    if let Some(most) = most {
        question["limits"] = json!({ "tramp_oil": { "max": most } });
    }
    question
}

fn asked(oil: Value, most: Option<f64>) -> Value {
    solve("make-up", &held(oil, most)).expect("it can be held")
}

/// By hand: 0.2 L/day leak in, and 3 L/day of fluid take their oil along. To end at 1 % of the
/// whole, 1 part of oil to 99 of the rest, 0.2·99 = 19.8 L/day have to be freed of it, 16.8 of them by
/// a skimmer: 0.7 L/h. With nothing skimmed it ends at 0.2/3 of the rest, 6.25 % of the whole.
#[test]
fn a_skimmer_against_a_leak() {
    let record = asked(json!({ "leak": 0.2 }), Some(1.0));
    assert_near(number(&record, "/answer/properties/tramp_oil/settles_at"), 6.25, 1e-9);
    assert_near(number(&record, "/answer/remedies/skimmer"), 16.8, 1e-9);
    assert_near(number(&record, "/answer/remedies/skimmer_per_hour"), 0.7, 1e-10);
    assert!(record["answer"]["remedies"].get("deionised_share").is_none(), "{record:#}");
    let said = record["statement"].as_str().expect("a statement");
    assert!(said.contains("let a skimmer free 0.7 L/h of its oil"), "{said}");
    // Put back as the skimmer it ends on the limit.
    let skimmed = asked(json!({ "leak": 0.2, "skimmer": 16.8 }), Some(1.0));
    assert_near(number(&skimmed, "/answer/properties/tramp_oil/settles_at"), 1.0, 1e-9);
    assert!(skimmed["answer"].get("remedies").is_none(), "{skimmed:#}");
}

/// What a forecast follows day by day comes to where the make-up says it ends.
#[test]
fn the_forecast_comes_to_the_same() {
    let oil = json!({ "leak": 0.3, "skimmer": 12 });
    let end = number(&asked(oil.clone(), None), "/answer/properties/tramp_oil/settles_at");
    let question = json!({
        "units": "metric",
        "sump": {
            "capacity": 260, "volume": 200, "concentration": 8, "properties": { "tramp_oil": 0.5 },
        },
        "losses": { "evaporation": 5, "carry_off": 3 },
        "oil": oil,
        "feeding": { "when": "always", "with": { "kind": "water_and_concentrate", "target": 8 } },
        "days": 1500,
    });
    let record = solve("forecast", &question).expect("an answer");
    assert_near(number(&record, "/answer/after/properties/tramp_oil"), end, 1e-9);
}

#[test]
fn a_leak_that_fills_the_sump_is_refused() {
    let question = held(json!({ "leak": 60 }), None);
    assert_problem(post("/v1/make-up", &question), 422, "unreachable", &["/oil/leak"]);
}
