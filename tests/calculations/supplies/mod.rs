//! Supplies: when to order how much.

mod laws;
mod published;
mod refusals;
mod simulated;

use serde_json::{Value, json};
use sumpwright_engine::calculation::{Calculation, Outcome};
use sumpwright_engine::calculations::shop::supplies::{Supplies, SuppliesAnswer};
use sumpwright_engine::text::Refusal;

fn answer(mut document: Value) -> Result<Outcome<SuppliesAnswer>, Refusal> {
    if let Some(members) = document.as_object_mut() {
        members.remove("units");
        members.remove("reference");
    }
    let question: Supplies = serde_json::from_value(document).expect("a question");
    question.calculate()
}

/// A plan of one supply on 1 December 2026, a Tuesday: 6 L a day, drums of 205 L in ten days.
fn plan(changes: &[(&str, Value)]) -> Value {
    let mut item = json!({
        "name": "concentrate A", "on_hand": 300, "use_per_day": 6, "use_spread_per_day": 1.5,
        "container": { "kind": "drum", "volume": 205 }, "lead_days": 10,
    });
    for (member, value) in changes {
        item[*member] = value.clone();
    }
    json!({ "today": "2026-12-01", "supplies": [item] })
}
