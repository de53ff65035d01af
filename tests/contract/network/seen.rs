//! The traces of a request for an operator: ids, spans, the log, metrics.

use super::Program;
use crate::server::{client, get, header, post};
use serde_json::Value;

/// The example of the recommendation (W3C Trace Context, 3.2.2).
const GIVEN: &str = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01";

#[test]
fn a_request_keeps_its_id_and_its_trace() {
    let service = Program::start(&["--log-format", "json"]);
    let document: Value = client()
        .get(service.at("/v1/top-up/example"))
        .send()
        .expect("an answer")
        .json()
        .expect("JSON");
    let request = client().post(service.at("/v1/top-up?pick=answer.after.volume")).json(&document);
    let request = request.header("x-request-id", "order-4711").header("traceparent", GIVEN);
    let answer = request.send().expect("an answer");
    assert_eq!(header(&answer, "x-request-id"), "order-4711");
    let place = header(&answer, "traceparent");
    assert!(place.starts_with("00-4bf92f3577b34da6a3ce929d0e0e4736-") && place.ends_with("-01"));
    assert_ne!(place, GIVEN, "the span is the service's own");

    let line = service.logs("order-4711");
    let line: Value = serde_json::from_str(&line).expect("a line is JSON");
    assert_eq!(line["calculation"], "top-up");
    assert_eq!(line["outcome"], "answered");
    assert_eq!(line["status"], 200);
    assert_eq!(line["trace"], "4bf92f3577b34da6a3ce929d0e0e4736");
    assert!(line["milliseconds"].as_f64().is_some_and(|time| time > 0.0));
    let text = line.to_string();
    for of_the_document in ["answer.after", "machining centre", "refractometer"] {
        assert!(!text.contains(of_the_document), "{text}");
    }
}

#[test]
fn a_request_without_an_id_gets_one_and_a_strange_one_is_not_echoed() {
    let id = |given: Option<&str>| {
        let request = crate::server::request("GET", "/v1");
        let request = given.iter().fold(request, |request, id| request.header("x-request-id", *id));
        header(&request.send().expect("an answer"), "x-request-id").to_owned()
    };
    let (one, other) = (id(None), id(None));
    assert_eq!(one.len(), 32);
    assert_ne!(one, other);
    for strange in ["<script>", "a b", &"x".repeat(129), ""] {
        assert_ne!(id(Some(strange)), strange);
    }
}

#[test]
fn every_answer_tells_a_browser_to_take_its_type_as_said() {
    for path in ["/", "/v1", "/docs/", "/nowhere", "/problems/no-key", "/openapi.json"] {
        assert_eq!(header(&get(path), "x-content-type-options"), "nosniff", "{path}");
    }
    let policy = get("/docs/");
    assert!(header(&policy, "content-security-policy").contains("default-src 'self'"));
}

#[test]
fn metrics_count_by_calculation_and_outcome() {
    let service = Program::start(&[]);
    let ask = |path: &str| client().get(service.at(path)).send().expect("an answer");
    for _ in 0..3 {
        ask(
            "/v1/concentration?units=metric&reading.method=refractometer&reading.brix=6&reading.factor=1.25",
        );
    }
    ask("/v1/concentration?units=furlongs");
    ask("/v1/nowhere");
    assert!(header(&ask("/metrics"), "content-type").starts_with("text/plain; version=0.0.4"));
    let accepts = "application/openmetrics-text;version=1.0.0,text/plain;version=0.0.4;q=0.5";
    let request = client().get(service.at("/metrics")).header("accept", accepts);
    let metrics = request.send().expect("an answer");
    assert!(header(&metrics, "content-type").starts_with("application/openmetrics-text"));
    let text = metrics.text().expect("text");
    let count = |outcome: &str, calculation: &str| {
        let line = format!(
            "sumpwright_requests_total{{calculation=\"{calculation}\",outcome=\"{outcome}\"}} "
        );
        let found = text.lines().find_map(|found| found.strip_prefix(&line));
        found.map_or(0, |number| number.parse().expect("a count"))
    };
    let counted = count("answered", "concentration");
    let refused = count("malformed", "concentration") + count("out-of-range", "concentration");
    assert_eq!((counted, refused, count("not-found", "none")), (3, 1, 1), "{text}");
    let seconds = "sumpwright_request_duration_seconds_count{calculation=\"concentration\"} 4";
    assert!(text.contains(seconds), "{text}");
    assert!(text.ends_with("# EOF\n"), "as OpenMetrics ends");
}

#[test]
fn probes_answer_in_a_word() {
    assert_eq!(get("/livez").text().expect("text"), "alive");
    assert_eq!(get("/readyz").text().expect("text"), "ready");
    assert_eq!(post("/readyz", &Value::Null).status(), 405);
}
