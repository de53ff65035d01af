//! The statement of a batch: what to pour together, in amounts as they are measured out.

use crate::solve;
use serde_json::json;

/// By hand: 12.3 L at 6.5 % take 0.7995 L of concentrate; measured out to half a litre
/// that is 1 L in 12 L, 8.33 %, with the 11.5005 L of water cut to 11 L.
#[test]
fn what_to_pour_together_is_said() {
    let mut question = json!({
        "units": "metric",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "water", "concentration": 0 },
        ],
    });
    let said = |question: &serde_json::Value| {
        let record = solve("blend", question).expect("a batch");
        record["statement"].as_str().expect("a statement").to_owned()
    };
    assert_eq!(
        said(&question),
        "Pour together 95 L of water and 5 L of concentrate, in this order; that makes 100 L at 5 \
         % by volume."
    );
    question["target"] = json!({ "volume": 12.3, "concentration": 6.5 });
    question["measures_to"] = 0.5.into();
    assert_eq!(
        said(&question),
        "Pour together 11 L of water and 1 L of concentrate, in this order; that makes 12 L at \
         8.33 % by volume."
    );
}
