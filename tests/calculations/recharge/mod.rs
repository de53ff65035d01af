//! Recharge: rounds of clean-outs.

mod any_round;
mod dilution;
mod order;
mod over_http;
mod published;
mod refusals;
mod said;
mod statement;
mod vessels;
mod walk;

use serde_json::Value;
use sumpwright_engine::calculation::{Calculation, Outcome};
use sumpwright_engine::calculations::shop::recharge::{Recharge, RechargeAnswer};
use sumpwright_engine::text::Refusal;

/// A question from its metric wire form, which carries the envelope too.
fn question(mut document: Value) -> Recharge {
    if let Some(members) = document.as_object_mut() {
        members.remove("units");
        members.remove("reference");
    }
    serde_json::from_value(document).expect("a question")
}

fn answer(document: Value) -> Result<Outcome<RechargeAnswer>, Refusal> {
    question(document).calculate()
}
