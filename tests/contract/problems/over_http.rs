//! Refusals of the service itself: addresses, methods, media types, sizes and options.

use super::{posted, top_up};
use crate::assert_problem;
use crate::server::{get, header, post, request};
use serde_json::{Value, json};

#[test]
fn what_is_not_there_is_not_found() {
    let problem = assert_problem(get("/v1/topup"), 404, "not-found", &[]);
    assert!(problem["detail"].as_str().unwrap().contains("\"top-up\"?"), "{problem}");
    assert_problem(get("/v2"), 404, "not-found", &[]);
    assert_problem(get("/problems/nothing"), 404, "not-found", &[]);
    assert_problem(get("/v1/topup/example"), 404, "not-found", &[]);
}

#[test]
fn the_wrong_method_is_told_the_right_ones() {
    for (path, allowed) in
        [("/v1/top-up", "GET, HEAD, OPTIONS, POST"), ("/v1", "GET, HEAD, OPTIONS")]
    {
        let response = request("PUT", path).send().expect("an answer");
        assert_eq!(header(&response, "allow"), allowed);
        assert_problem(response, 405, "method-not-allowed", &[]);
    }
}

#[test]
fn what_cannot_be_answered_in_is_not_acceptable() {
    let question = top_up(|_| {});
    let response = request("POST", "/v1/top-up").header("accept", "image/png").json(&question);
    assert_problem(response.send().expect("an answer"), 406, "not-acceptable", &[]);
    let response = request("GET", "/v1/top-up?units=us").header("accept", "image/png");
    assert_problem(response.send().expect("an answer"), 406, "not-acceptable", &[]);
}

/// The document of a POST is in its body; unknown members of its query are refused as in a GET.
#[test]
fn what_a_post_says_in_its_query_is_known_or_refused() {
    let question = top_up(|_| {});
    for (query, words) in [
        ("digits=4&unitz=us", "\"unitz\""),
        ("units=us", "put the member there"),
        ("sump.volume=3", "put the member there"),
        ("digit=4", "Did you mean \"digits\"?"),
        ("digits=0", "from 1 to 17"),
        ("format=pdf", "json, csv, text"),
        ("width=279", "from 280 to 2000"),
        ("width=wide", "a whole number of pixels"),
        ("digits=4&digits=5", "given twice"),
    ] {
        let response = post(&format!("/v1/top-up?{query}"), &question);
        let problem = assert_problem(response, 400, "malformed", &[""]);
        let detail = problem["detail"].as_str().expect("a sentence");
        assert!(detail.contains(words), "{query}: {detail}");
    }
    let response = post("/v1/top-up?pick=answer.dran", &question);
    let problem = assert_problem(response, 422, "inconsistent", &[""]);
    assert!(problem["detail"].as_str().unwrap().contains("answer.drain"), "{problem}");
    let response = post("/v1/forecast?pick=answer.end&format=svg", &question);
    assert_problem(response, 422, "inconsistent", &[""]);
}

#[test]
fn what_is_too_large_is_refused_with_the_limit() {
    let long = format!("{{\"units\":\"metric\",\"reference\":\"{}\"}}", "x".repeat(9 << 20));
    let problem = assert_problem(posted(&long), 413, "too-large", &[]);
    assert!(problem["detail"].as_str().unwrap().contains("8 MiB"), "{problem}");
}

#[test]
fn a_list_that_is_too_long_is_refused_with_the_limit() {
    let stocks: Vec<Value> =
        (0..20_001).map(|i| json!({ "name": format!("stock {i}"), "concentration": 5 })).collect();
    let question = json!({
        "units": "metric",
        "target": { "volume": 100, "concentration": 5 },
        "stocks": stocks,
    });
    let problem = assert_problem(post("/v1/blend", &question), 422, "out-of-range", &["/stocks"]);
    assert!(problem["detail"].as_str().unwrap().contains("20000"), "{problem}");
}

#[test]
fn what_is_not_understood_is_refused() {
    let wrong = [("content-type", "application/xml"), ("content-encoding", "gzip")];
    for (name, value) in wrong {
        let mut request = request("POST", "/v1/top-up").header(name, value);
        if name == "content-encoding" {
            request = request.header("content-type", "application/json");
        }
        let response = request.body("{}").send().expect("an answer");
        assert_problem(response, 415, "unsupported-media-type", &[]);
    }
}

/// What a browser accepts when it opens an address to show it.
const BROWSER: &str = "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8";

#[test]
fn a_person_in_a_browser_is_told_on_a_page() {
    for (path, status, words) in [
        ("/nowhere", 404, "There is nothing at /nowhere"),
        ("/v1/top-upp", 404, "top-up"),
        ("/v1/top-up?units=metric", 400, "missing"),
        ("/v1/top-up/exampel", 404, "Open the page with the forms"),
    ] {
        let response = request("GET", path).header("accept", BROWSER).send().expect("an answer");
        assert_eq!(response.status(), status, "{path}");
        assert_eq!(header(&response, "content-type"), "text/html; charset=utf-8", "{path}");
        assert!(header(&response, "vary").split(", ").any(|name| name == "Accept"), "{path}");
        let page = response.text().expect("text");
        assert!(page.contains(words) && page.contains("href=\"/\""), "{path}: {page}");
        let told = request("GET", path).header("accept", "text/html").send().expect("an answer");
        assert_eq!(told.status(), status, "{path}");
        assert_eq!(header(&told, "content-type"), "application/problem+json", "{path}");
    }
}
