//! Helpers for many tests.

pub(crate) mod draws;
pub(crate) mod program;
pub(crate) mod server;
pub(crate) mod units;

use reqwest::blocking::Response;
use serde_json::{Value, json};
use server::{get, header};
use std::collections::BTreeSet;
use std::sync::LazyLock;
use sumpwright_openapi::flat;
use sumpwright_openapi::problem::Problem;
use sumpwright_openapi::service::{Service, Services};

pub(crate) static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

/// A calculation by name.
pub(crate) fn service(name: &str) -> &'static Service {
    SERVICES.get(name).unwrap_or_else(|| panic!("there is no calculation {name}"))
}

/// The answer to a document, read from bytes like a caller's.
pub(crate) fn solve(name: &str, document: &Value) -> Result<Value, Problem> {
    let answered = service(name).answer(document.to_string().as_bytes())?;
    Ok(serde_json::from_slice(&answered).expect("an answer is JSON"))
}

/// The OpenAPI document.
pub(crate) fn spec() -> Value {
    serde_json::from_str(&SERVICES.openapi).expect("the OpenAPI document is JSON")
}

/// The example of a calculation.
pub(crate) fn example(name: &str) -> Value {
    serde_json::from_str(service(name).example).expect("an example is JSON")
}

/// The example of a calculation with a change.
pub(crate) fn changed(name: &str, change: impl FnOnce(&mut Value)) -> Value {
    let mut question = example(name);
    change(&mut question);
    question
}

/// A validator for a component of the published schema.
pub(crate) fn validator(component: &str) -> jsonschema::Validator {
    let schema = json!({
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "$ref": format!("#/components/schemas/{component}"),
        "components": spec()["components"],
    });
    jsonschema::validator_for(&schema).expect("a component is a schema")
}

/// The number at a JSON pointer.
pub(crate) fn number(document: &Value, pointer: &str) -> f64 {
    let found = document.pointer(pointer);
    let found = found.unwrap_or_else(|| panic!("nothing at {pointer} in {document:#}"));
    found.as_f64().unwrap_or_else(|| panic!("no number at {pointer} in {document:#}"))
}

/// Asserts that two numbers agree to `tolerance`, absolutely.
#[track_caller]
pub(crate) fn assert_near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} ± {tolerance}");
}

/// Asserts the status, type and pointers of a problem, and that its page exists.
#[track_caller]
pub(crate) fn assert_problem(
    response: Response,
    status: u16,
    slug: &str,
    pointers: &[&str],
) -> Value {
    assert_eq!(header(&response, "content-type"), "application/problem+json");
    assert_eq!(response.status().as_u16(), status);
    let problem: Value = response.json().expect("a problem is JSON");
    assert_eq!(problem["type"], format!("/problems/{slug}"), "{problem:#}");
    assert_eq!(problem["status"], status);
    let errors = problem["errors"].as_array().cloned().unwrap_or_default();
    let found = errors.iter().filter_map(|error| error["pointer"].as_str());
    let (found, expected): (BTreeSet<_>, BTreeSet<_>) =
        (found.collect(), pointers.iter().copied().collect());
    assert_eq!(found, expected, "{problem:#}");
    assert_eq!(errors.len(), pointers.len(), "{problem:#}");
    let detail = problem["detail"].as_str().unwrap_or_default();
    assert!(detail.len() > 20 && !detail.contains("  "), "{problem:#}");
    let page = get(problem["type"].as_str().expect("an address"));
    assert_eq!(page.status(), 200);
    assert!(page.text().expect("a page").contains(problem["title"].as_str().expect("a title")));
    problem
}

/// Asserts that no number in a value is below 0.
#[track_caller]
pub(crate) fn assert_nothing_negative(value: &Value) {
    for (path, leaf) in flat::flatten(value) {
        if let Some(number) = leaf.as_f64() {
            assert!(number >= 0.0, "{path} is {number}");
        }
    }
}

/// The findings of an answer with a given code.
#[track_caller]
pub(crate) fn findings(name: &str, question: &Value, code: &str) -> Vec<Value> {
    let record = solve(name, question).unwrap_or_else(|problem| panic!("{name}: {problem:?}"));
    // A record without findings does not have the member.
    let findings = record["findings"].as_array().into_iter().flatten();
    findings.filter(|finding| finding["code"] == code).cloned().collect()
}

/// The pointers of these findings.
#[track_caller]
pub(crate) fn found(name: &str, question: &Value, code: &str) -> Vec<String> {
    let pointer = |finding: Value| finding["pointer"].as_str().expect("a pointer").to_owned();
    findings(name, question, code).into_iter().map(pointer).collect()
}
