//! Limits that no choice of water keeps at the same time.

use crate::solve;
use crate::support::{changed, found};
use serde_json::json;

/// The loop keeps both the minimum of hardness and the maximum of chloride, or says which
/// two limits conflict.
#[test]
fn a_loop_names_the_limits_that_conflict() {
    let question = changed("fluid-loop", |question| {
        question["limits"] = json!({ "chloride": { "max": 100 }, "hardness": { "min": 120 } });
    });
    let record = solve("fluid-loop", &question).expect("an answer");
    assert!(
        record["answer"]["purge"].get("deionised_needed").is_none(),
        "{:#}",
        record["answer"]["purge"]
    );
    assert_eq!(found("fluid-loop", &question, "limits-conflict"), ["/limits/hardness/min"]);
}
