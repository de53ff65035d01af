//! The maximum cost of one document: faults, memory, time and draws.

mod cut_off;
mod faults;
mod longest;
mod memory;

use crate::SERVICES;
use serde_json::Value;

/// The example of a calculation.
fn example(name: &str) -> Value {
    let service = SERVICES.get(name).expect("a calculation");
    serde_json::from_str(service.example).expect("its example is JSON")
}
