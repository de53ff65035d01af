//! The state of a sump: what is in it now, by its log.

mod laws;
mod overfull;
mod published;
mod refusals;
mod shop_log;
mod unmeasured;

use crate::service;
use serde_json::Value;

fn example() -> Value {
    serde_json::from_str(service("sump-state").example).expect("an example is JSON")
}
