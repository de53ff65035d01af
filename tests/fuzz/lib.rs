//! Three readers of bytes, each fed by a fuzzer; what is asserted is shared with
//! the ordinary tests.

#[path = "../readers/cells.rs"]
mod cells;
#[path = "../readers/laws.rs"]
mod laws;

use std::sync::LazyLock;
use sumpwright_openapi::service::Services;

static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

/// A document.
pub fn json(input: &[u8]) {
    laws::json(&SERVICES, input);
}

/// A query.
pub fn flat(input: &[u8]) {
    laws::query(&SERVICES, input);
}

/// A table.
pub fn csv(input: &[u8]) {
    cells::table(&SERVICES, input);
}
