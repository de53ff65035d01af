//! The statement of a sump's volume: the volume and its uncertainty, or that there is none.

use crate::solve;
use serde_json::{Value, json};

fn statement(question: &Value) -> String {
    let record = solve("sump-volume", question).unwrap_or_else(|problem| panic!("{problem:?}"));
    record["statement"].as_str().expect("a statement").to_owned()
}

/// By hand: a box of 1000 by 500 mm filled to 400 mm is 200 L; 20 L of water that bring 8 %
/// down to 7.2 % went into 180 L.
#[test]
fn the_volume_is_said_and_how_sure_it_is() {
    let mut question = json!({
        "units": "metric",
        "dilution": { "before": 8, "added": 20, "after": 7.2 },
    });
    let unsure = "The sump holds 180 L. Say how well it was measured to learn how sure that is.";
    assert_eq!(statement(&question), unsure);
    question["dilution"]["strength_u"] = 0.01.into();
    assert!(statement(&question).starts_with("The sump holds 180 L, give or take "));
    question["shape"] = json!({
        "compartments": [{ "form": "box", "length": 1000, "width": 500, "depth": 500 }],
        "level": 400,
        "length_u": 0.5,
    });
    let apart = "There is no volume to dose by: the sump holds 200 L by its shape and 180 L by \
                 dilution. Let the fluid circulate, and read both strengths again.";
    assert_eq!(statement(&question), apart);
}
