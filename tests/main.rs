//! What checks the whole from outside.
//!
//! - [`catalogue`]: what every calculation must do, written once for all
//! - [`laws`]: properties that hold for any question
//! - [`published`]: figures from outside the project, each with its source
//! - [`problems`]: every way of having no answer, over HTTP
//! - [`wire`]: formats, methods and addresses, over HTTP
//! - [`rounds`]: the plan of a round and its job sheet, over HTTP
//! - [`tables`]: tables, a row a document
//! - [`client`]: the client, over HTTP and in its own process
//! - [`page`]: the operator's page, over HTTP
//! - [`program`]: the program as a person starts it
//! - [`document`]: the OpenAPI document
//! - [`readme`]: what the README promises
//! - [`tidy`]: the rules of the house that a compiler does not hold

mod catalogue;
mod client;
mod document;
mod draws;
mod laws;
mod page;
mod problems;
mod program;
mod published;
mod published_separation;
mod readme;
mod rounds;
mod separations;
mod server;
mod tables;
mod tidy;
mod wire;

use serde_json::Value;
use std::sync::LazyLock;
use sumpwright_openapi::problem::Problem;
use sumpwright_openapi::service::{Service, Services};

static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

/// A calculation by name.
fn service(name: &str) -> &'static Service {
    SERVICES.get(name).unwrap_or_else(|| panic!("there is no calculation {name}"))
}

/// The answer to a document, as the bytes of a caller's document would get it.
fn solve(name: &str, document: &Value) -> Result<Value, Problem> {
    let answered = service(name).answer(document.to_string().as_bytes())?;
    Ok(serde_json::from_slice(&answered).expect("an answer is JSON"))
}

/// The OpenAPI document.
fn spec() -> Value {
    serde_json::from_str(&SERVICES.openapi).expect("the OpenAPI document is JSON")
}

/// The number at a JSON pointer.
fn number(document: &Value, pointer: &str) -> f64 {
    let found = document.pointer(pointer);
    let found = found.unwrap_or_else(|| panic!("nothing at {pointer} in {document:#}"));
    found.as_f64().unwrap_or_else(|| panic!("no number at {pointer} in {document:#}"))
}

/// Asserts that two numbers agree to `tolerance`, absolutely.
#[track_caller]
fn assert_near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} ± {tolerance}");
}
