//! Dip-slide counts that call for action.

use crate::support::{changed, findings, found};
use crate::{number, solve};
use serde_json::Value;

fn recycler(change: impl FnOnce(&mut Value)) -> Value {
    changed("recycler", change)
}

/// UK HSE: a dip slide of 10⁶ CFU/mL or more calls for immediate action, in the dirty
/// fluid and in each delivery, whatever the treatment removes.
#[test]
fn a_count_that_calls_for_action_is_named() {
    let heated = recycler(|question| {
        question["feed"]["dip_slide"] = 2e6.into();
        question["stages"][2]["kills"] = 99.9.into();
        question["feed"]["arrivals"][1]["dip_slide"] = 1e6.into();
        question["feed"]["arrivals"][2]["dip_slide"] = 9e5.into();
    });
    let record = solve("recycler", &heated).expect("an answer");
    assert!(number(&record, "/answer/bacteria/count") < 1e6, "the heated stage kills");
    let told = found("recycler", &heated, "microbes-act-at-once");
    assert_eq!(told, ["/feed/dip_slide", "/feed/arrivals/1/dip_slide"]);
    let killed = findings("recycler", &heated, "killed-stays-as-endotoxin");
    assert_eq!(killed[0]["pointer"], "/stages/2/kills");
    assert!(killed[0]["text"].as_str().expect("a text").contains("endotoxin"));
    let editions = record["assumptions"].as_array().expect("assumptions").iter();
    let edition = editions.filter(|told| told["pointer"] == "/feed/dip_slide");
    let edition: Vec<&str> = edition.filter_map(|told| told["text"].as_str()).collect();
    assert!(edition.len() == 1 && edition[0].contains("2012"), "{edition:?}");
    let usual = recycler(|_| {});
    assert!(found("recycler", &usual, "microbes-act-at-once").is_empty());
    assert!(found("recycler", &usual, "killed-stays-as-endotoxin").is_empty());
}
