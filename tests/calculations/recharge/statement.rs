//! The statement of a round, and the measured amounts of its batches.

use crate::{service, solve};
use serde_json::{Value, json};

/// By hand: an empty 100 L sump to 6 % takes 6 L of concentrate in 94 L of water; measured
/// out to 5 L that is 5 L in 95 L, 5 %.
#[test]
fn batches_and_time_are_said_and_amounts_are_rounded() {
    let round = json!({
        "units": "metric",
        "sumps": [{
            "name": "lathe", "product": "product A", "volume": 100, "target": 6, "factor": 1.25,
            "fluid_now": { "volume": 0, "concentration": 6 },
        }],
        "stocks": [
            { "name": "concentrate", "concentration": 100 },
            { "name": "water", "concentration": 0 },
        ],
        "measures_to": 5,
    });
    let record = solve("recharge", &round).expect("a round");
    assert_eq!(record["statement"], "Prepare 100 L of product A at 6 % by volume.");
    let texts = record["answer"]["sheet"].as_array().expect("a sheet").iter();
    let texts: Vec<&str> = texts.filter_map(|step| step["text"].as_str()).take(3).collect();
    assert_eq!(texts[0], "Pour 95 L of water into a clean vessel.");
    assert_eq!(texts[1], "Stir in 5 L of concentrate slowly: concentrate into water.");
    assert_eq!(texts[2], "Read it before use: 4 °Brix, which is 5 % by volume.");
    let example: Value = serde_json::from_str(service("recharge").example).expect("JSON");
    let record = solve("recharge", &example).expect("a round");
    let said = record["statement"].as_str().expect("a statement");
    assert!(said.starts_with("Prepare ") && said.contains(" trips."), "{said}");
    assert!(said.ends_with("The first system cleaner goes in 24 h before the round."), "{said}");
}
