//! Rounds of top-ups.

mod laws;
mod over_http;
mod published;
mod refusals;
mod small;
mod statement;
mod walk;

use serde_json::{Value, json};
use sumpwright_engine::calculation::{Calculation, Outcome};
use sumpwright_engine::calculations::shop::top_up_round::{TopUpRound, TopUpRoundAnswer};
use sumpwright_engine::text::Refusal;

/// A question from its metric wire form, which carries the envelope too.
fn question(mut document: Value) -> TopUpRound {
    if let Some(members) = document.as_object_mut() {
        members.remove("units");
        members.remove("reference");
    }
    serde_json::from_value(document).expect("a question")
}

fn answer(document: Value) -> Result<Outcome<TopUpRoundAnswer>, Refusal> {
    question(document).calculate()
}

/// A sump of 200 L with a band of 5.5 to 7 %.
fn sump(name: &str, volume: f64, strength: f64) -> Value {
    json!({
        "name": name, "product": "product A",
        "sump": { "capacity": 200, "volume": volume, "concentration": strength },
        "band": { "low": 5.5, "target": 6.25, "high": 7 },
    })
}

/// A round of such sumps, from concentrate and water.
#[expect(clippy::needless_pass_by_value, reason = "made where it is handed over")]
fn round(sumps: Vec<Value>) -> Value {
    json!({
        "sumps": sumps,
        "stocks": [
            { "name": "concentrate A", "product": "product A", "concentration": 100 },
            { "name": "water", "concentration": 0 },
        ],
        "margin": 0,
    })
}
