//! A remedy keeps every limit of its request, or the answer names the two limits that conflict.

use crate::support::{findings, found};
use crate::{number, solve};
use serde_json::{Value, json};

fn make_up(limits: &Value) -> Value {
    json!({
        "units": "metric",
        "sump": { "volume": 200, "concentration": 8 },
        "losses": { "evaporation": 8, "carry_off": 4 },
        "water": { "properties": { "chloride": 50, "hardness": 280 } },
        "limits": limits,
    })
}

/// Chloride settles at 150 and hardness at 840, three cycles. Chloride at most 50 needs
/// two thirds of the water deionised, which leaves 280 of hardness; with a minimum of 300
/// no share is enough, and no discharge either, because the water itself has 50 of
/// chloride.
#[test]
fn a_share_that_breaks_another_limit_is_no_remedy() {
    let question = make_up(&json!({ "chloride": { "max": 50 }, "hardness": { "min": 300 } }));
    let record = solve("make-up", &question).expect("an answer");
    assert_eq!(record["answer"]["remedies"].as_object().map(serde_json::Map::len), Some(0));
    let conflicts = findings("make-up", &question, "limits-conflict");
    assert_eq!(conflicts[0]["severity"], "act");
    assert_eq!(record["findings"][0]["code"], "limits-conflict", "it comes first");
    let text = conflicts[0]["text"].as_str().expect("a text");
    for part in ["chloride", "hardness", "50 mg/L", "300 mg/L", "66.67 %", "64.29 %"] {
        assert!(text.contains(part), "{text}");
    }
    assert_eq!(conflicts[0]["pointer"], "/limits/hardness/min");
}

/// Every remedy given, put into the question, keeps every limit.
#[test]
fn a_remedy_asked_back_keeps_every_limit() {
    let mut remedies = 0;
    for most in [55, 70, 90, 120] {
        for least in [60, 250, 300, 400, 700] {
            let limits = json!({ "chloride": { "max": most }, "hardness": { "min": least } });
            let question = make_up(&limits);
            let record = solve("make-up", &question).expect("an answer");
            let keeps = |question: &Value| {
                let record = solve("make-up", question).expect("an answer");
                let at =
                    |name: &str| number(&record, &format!("/answer/properties/{name}/settles_at"));
                let (chloride, hardness) = (at("chloride"), at("hardness"));
                assert!(chloride <= f64::from(most) * (1.0 + 1e-9), "{chloride} and {hardness}");
                assert!(hardness >= f64::from(least) * (1.0 - 1e-9), "{chloride} and {hardness}");
            };
            let remedy = |name: &str| record["answer"]["remedies"][name].as_f64();
            if let Some(share) = remedy("deionised_share") {
                let mut mended = question.clone();
                let rest = 1.0 - share / 100.0;
                mended["water"]["properties"] =
                    json!({ "chloride": 50.0 * rest, "hardness": 280.0 * rest });
                keeps(&mended);
                remedies += 1;
            }
            if let Some(discharge) = remedy("discharge") {
                let mut mended = question.clone();
                mended["discharge"] = discharge.into();
                keeps(&mended);
                remedies += 1;
            }
            let both = ["deionised_share", "discharge"].map(|name| remedy(name).is_none());
            let told = found("make-up", &question, "limits-conflict").len();
            assert_eq!(told, both.iter().filter(|missing| **missing).count());
        }
    }
    assert!(remedies > 10, "{remedies}");
}

/// All of the water deionised: the sump gets hardly any hardness, and the answer says so.
#[test]
fn soft_water_foams() {
    let mut question = make_up(&json!({}));
    question["water"]["properties"]["hardness"] = 12.into();
    assert_eq!(found("make-up", &question, "soft-water-foams"), ["/sump/properties/hardness"]);
    question["limits"] = json!({ "hardness": { "min": 10 } });
    assert!(found("make-up", &question, "soft-water-foams").is_empty(), "the caller's own least");
    question["limits"] = json!({ "hardness": { "min": 200 } });
    let told = findings("make-up", &question, "soft-water-foams");
    assert!(told[0]["text"].as_str().expect("a text").contains("200 mg/L"), "{told:?}");
    assert!(found("make-up", &make_up(&json!({})), "soft-water-foams").is_empty());
}
