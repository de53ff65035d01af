//! Two volumes that disagree.

use crate::support::changed;
use crate::{assert_near, number, solve};
use serde_json::json;

/// By hand: 252 L by shape, while 30 L of water that bring 6.6 to 6.313 % indicate 660 L.
#[test]
fn volumes_that_disagree_are_not_averaged() {
    let question = json!({
        "units": "metric",
        "shape": {
            "compartments": [
                { "form": "box", "length": 1200, "width": 700, "depth": 400 },
            ],
            "level": 300,
            "length_u": 5,
        },
        "dilution": { "before": 6.6, "added": 30, "after": 6.313043478, "strength_u": 0.03 },
    });
    let record = solve("sump-volume", &question).expect("an answer");
    let answer = record["answer"].as_object().expect("an answer");
    assert_eq!(answer.keys().next().map(String::as_str), Some("agreement"), "it comes first");
    assert!(!answer.contains_key("volume") && !answer.contains_key("u"));
    assert_near(number(&record, "/answer/by_shape/volume"), 252.0, 1e-9);
    assert_near(number(&record, "/answer/by_dilution/volume"), 660.0, 1e-4);
    assert_near(number(&record, "/answer/agreement/ratio"), 660.0 / 252.0, 1e-6);
    assert_eq!(record["findings"][0]["code"], "volumes-disagree");
    assert_eq!(record["findings"][0]["severity"], "act");
    let text = record["findings"][0]["text"].as_str().expect("a text");
    for part in ["252 L", "660 L", "2.6 times", "chip bed", "pipes", "nobody measured"] {
        assert!(text.contains(part), "{text}");
    }
    let us = changed("sump-volume", |_| {});
    let record = solve("sump-volume", &us).expect("an answer");
    assert!(record["answer"].get("volume").is_some() && record.get("findings").is_none());
}
