//! What checks the whole from outside.
//!
//! - [`catalogue`]: what every calculation must do, written once for all
//! - [`laws`]: properties that hold for any question
//! - [`published`]: figures from outside the project, each with its source
//! - [`published_recycler`]: the same for the recycler
//! - [`published_money`]: the same for money that comes and goes by the year
//! - [`published_courses`]: the same for sumps over time
//! - [`published_disposal`]: the same for waste and its limits
//! - [`disposal`]: what a projection of waste refuses, over HTTP
//! - [`disposal_laws`]: what holds for any projection of waste
//! - [`top_ups`]: what a top-up advises and never does
//! - [`problems`]: every way of having no answer, over HTTP
//! - [`wire`]: formats, methods and addresses, over HTTP
//! - [`courses`]: sumps over time, their refusals and what holds for all of them
//! - [`published_uncertainty`]: the same for uncertainty and calibration
//! - [`published_sumps`]: the same for the volume of a sump
//! - [`measuring`]: calibration and sump volume: what they refuse and find
//! - [`uncertainty`]: how sure an answer is, for every calculation
//! - [`uncertainty_refusals`]: each way in which that cannot be told
//! - [`rounds`]: the plan of a round and its job sheet, over HTTP
//! - [`separations`], [`published_separation`]: what a stage takes out, and the same against figures
//!   from outside
//! - [`recycler`], [`recycler_refusals`]: its laws, its picture and its refusals
//! - [`tables`]: tables, a row a document
//! - [`client`]: the client, over HTTP and in its own process
//! - [`costs`]: ways of working side by side, their refusals and their picture, over HTTP
//! - [`cost_laws`]: properties of them that hold for any shop
//! - [`losses`]: the log of a sump, against statsmodels and over HTTP
//! - [`loops`]: a whole shop's fluid going round, its refusals and its laws
//! - [`published_loop`]: the same against figures from outside
//! - [`page`]: the operator's page, over HTTP
//! - [`network`]: the service on a plant's network
//! - [`bounds`]: what one document may cost, whatever is in it
//! - [`program`]: the program as a person starts it
//! - [`document`]: the OpenAPI document
//! - [`contract`]: what was released of it is kept
//! - [`readers`]: documents, queries and tables of bytes that nobody meant
//! - [`readme`]: what the README promises
//! - [`tidy`]: the rules of the house that a compiler does not hold

mod bounds;
mod catalogue;
mod client;
mod contract;
mod cost_laws;
mod costs;
mod courses;
mod disposal;
mod disposal_laws;
mod document;
mod draws;
mod laws;
mod loops;
mod losses;
mod measuring;
mod network;
mod page;
mod problems;
mod program;
mod published;
mod published_courses;
mod published_disposal;
mod published_loop;
mod published_money;
mod published_recycler;
mod published_separation;
mod published_sumps;
mod published_uncertainty;
mod readers;
mod readme;
mod recycler;
mod recycler_refusals;
mod rounds;
mod separations;
mod server;
mod tables;
mod tidy;
mod top_ups;
mod uncertainty;
mod uncertainty_refusals;
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
