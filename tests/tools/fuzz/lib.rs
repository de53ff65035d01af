//! Three readers of bytes, each fed by a fuzzer; the assertions are shared with
//! the ordinary tests.

#[path = "../../contract/readers/cells.rs"]
mod cells;
#[path = "../../contract/readers/laws.rs"]
mod laws;

use laws::Depth;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::LazyLock;
use sumpwright_openapi::service::Services;

static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

/// Every input is read, and one in a thousand, chosen by its content, is also answered.
fn depth(input: &[u8]) -> Depth {
    let mut hasher = DefaultHasher::new();
    input.hash(&mut hasher);
    if hasher.finish().is_multiple_of(1000) { Depth::Answer } else { Depth::Question }
}

/// A document.
pub fn json(input: &[u8]) {
    laws::json(&SERVICES, depth(input), input);
}

/// A query.
pub fn flat(input: &[u8]) {
    laws::query(&SERVICES, depth(input), input);
}

/// A table.
pub fn csv(input: &[u8]) {
    cells::table(&SERVICES, depth(input), input);
}
