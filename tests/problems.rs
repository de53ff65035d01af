//! Every way of having no answer, over HTTP: the exact status, type and
//! pointers of each.

mod contradictions;
mod malformed;
mod over_http;
mod unreachable;

use crate::server::{get, header, request};
use reqwest::blocking::Response;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Asserts the status, type and pointers of a problem, and that its page is there.
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

fn top_up(change: impl FnOnce(&mut Value)) -> Value {
    let mut question = json!({
        "units": "metric",
        "reference": "round 12",
        "sump": { "capacity": 200, "volume": 140, "concentration": 7 },
        "target": { "concentration": 8 },
    });
    change(&mut question);
    question
}

fn posted(body: &str) -> Response {
    let json = ("content-type", "application/json");
    let request = request("POST", "/v1/top-up").header(json.0, json.1);
    request.body(body.to_owned()).send().expect("the server answers")
}
