//! Many documents in one request, a line each, and answers that are as short as a program wants.

use crate::server::{header, post, request};
use crate::support::example;
use crate::{SERVICES, solve};
use reqwest::blocking::Response;
use serde_json::{Value, json};
use std::fmt::Write as _;

fn send(path: &str, kind: &str, body: impl Into<String>) -> Response {
    let sent = request("POST", path).header("content-type", kind.to_owned());
    sent.body(body.into()).send().expect("an answer")
}

/// The lines of an answer, each as JSON; nothing for a blank one.
fn lines(response: Response) -> Vec<Value> {
    let text = response.text().expect("the whole answer");
    assert!(text.ends_with('\n'), "the last line is ended");
    text.lines().map(|line| serde_json::from_str(line).unwrap_or_default()).collect()
}

#[test]
fn every_line_is_answered_as_it_is_alone_and_in_its_place() {
    for service in SERVICES.iter() {
        let metric = example(service.name);
        let mut wrong = metric.clone();
        wrong["reference"] = json!("line 3");
        wrong["colour"] = json!("red");
        let body = format!("{metric}\n\r\n{wrong}\n\"no document\"\n{{\"units\":\n{metric}");
        let path = format!("/v1/{}", service.name);
        let response = send(&path, "application/x-ndjson", body);
        assert_eq!(response.status(), 200);
        assert_eq!(header(&response, "content-type"), "application/x-ndjson");
        assert_eq!(header(&response, "preference-applied"), "");
        let lines = lines(response);
        let alone = solve(service.name, &metric).expect("an answer");
        assert_eq!(lines.len(), 6, "{}", service.name);
        assert_eq!([&lines[0], &lines[5]], [&alone, &alone], "{}", service.name);
        assert_eq!(lines[1], Value::Null, "a blank line is answered with a blank line");
        let problem = solve(service.name, &wrong).expect_err("a problem");
        assert_eq!(lines[2], json!(problem), "{}", service.name);
        assert_eq!(lines[2]["reference"], "line 3");
        assert_eq!([&lines[3]["status"], &lines[4]["status"]], [400, 400], "{}", service.name);
        let detail = lines[4]["detail"].as_str().expect("words");
        assert!(detail.ends_with("Each line is a document of its own."), "{detail}");
    }
}

/// Thousands of lines, among them some in US units and some that take long, cut into pieces
/// anywhere by the network, come back in their order.
#[test]
fn a_long_stream_comes_back_in_order() {
    let mut metric = example("top-up");
    let mut us = metric.clone();
    us["units"] = json!("us");
    let mut unsure = metric.clone();
    unsure["uncertainty"] = json!({ "inputs": { "/sump/volume": { "u": 2.0 } } });
    let mut body = String::from("\u{feff}");
    for i in 0..4000 {
        let document = match i % 1000 {
            500 => &mut unsure,
            n if n % 7 == 0 => &mut us,
            _ => &mut metric,
        };
        document["reference"] = json!(format!("machine {i}"));
        writeln!(body, "{document}").expect("text");
    }
    let response = send("/v1/top-up", "application/jsonl; charset=utf-8", body);
    assert_eq!(header(&response, "content-type"), "application/jsonl");
    let lines = lines(response);
    assert_eq!(lines.len(), 4000);
    for (i, line) in lines.iter().enumerate() {
        assert_eq!(line["reference"], format!("machine {i}"));
        assert!(line["answer"]["steps"].is_array(), "{line}");
        assert_eq!(line["uncertainty"].is_object(), i % 1000 == 500, "{i}");
    }
}

#[test]
fn a_line_that_is_too_long_ends_the_answers_in_words() {
    let good = example("concentration").to_string();
    let body = format!("{good}\n{{\"reference\":\"{}\"}}\n{good}\n", "x".repeat(9 << 20));
    let lines = lines(send("/v1/concentration", "application/x-ndjson", body));
    assert_eq!(lines.len(), 2);
    assert!(lines[0]["answer"].is_object());
    assert_eq!(lines[1]["status"], 413);
    let detail = lines[1]["detail"].as_str().expect("words");
    assert!(detail.contains("longer than 8 MiB") && detail.contains("again"), "{detail}");
}

#[test]
fn what_lines_cannot_be_asked_for_is_refused_in_words() {
    let good = example("top-up").to_string();
    let said = |response: Response, status: u16, words: &str| {
        assert_eq!(response.status(), status);
        let problem: Value = response.json().expect("a problem");
        let detail = problem["detail"].as_str().expect("words");
        assert!(detail.contains(words), "{detail}");
    };
    let kind = "application/x-ndjson";
    said(send("/v1/top-up?pick=statement", kind, &*good), 400, "Prefer: return=minimal");
    said(send("/v1/top-up", "application/json-seq", &*good), 415, "application/x-ndjson");
    let latin = "application/x-ndjson; charset=iso-8859-1";
    said(send("/v1/top-up", latin, &*good), 415, "in UTF-8");
    let list = format!("[{good},{good}]");
    said(send("/v1/top-up", "application/json", list), 400, "one per line");
    let packed = request("POST", "/v1/top-up").header("content-type", kind);
    let packed = packed.header("content-encoding", "gzip").body(good.clone());
    said(packed.send().expect("an answer"), 415, "without content encoding");
    let html = request("POST", "/v1/top-up").header("content-type", kind);
    let html = html.header("accept", "text/html").body(good);
    said(html.send().expect("an answer"), 406, kind);
}

/// The answer with its statement, of findings and cautions the codes (RFC 7240 says how it is
/// asked for).
fn minimal(record: &Value) -> Value {
    let mut minimal = record.clone();
    let members = minimal.as_object_mut().expect("a record");
    for name in ["balance", "assumptions"] {
        members.remove(name);
    }
    for name in ["findings", "cautions"] {
        let Some(list) = members.get_mut(name).and_then(Value::as_array_mut) else { continue };
        list.iter_mut().for_each(|entry| *entry = entry["code"].clone());
    }
    minimal
}

#[test]
fn a_caller_who_prefers_it_gets_the_minimal_answer() {
    for service in SERVICES.iter() {
        let (name, question) = (service.name, example(service.name));
        let mut unsure = question.clone();
        unsure["reference"] = json!("a reference");
        unsure["units"] = json!("us");
        for question in [question, unsure] {
            let Ok(record) = solve(name, &question) else { continue };
            let path = format!("/v1/{name}");
            let asked = |preference: &'static str| {
                let sent = request("POST", &path).header("prefer", preference).json(&question);
                sent.send().expect("an answer")
            };
            for preference in ["return=minimal", "wait=5, Return = \"minimal\"; foo=bar"] {
                let response = asked(preference);
                assert_eq!(header(&response, "preference-applied"), "return=minimal");
                let answered: Value = response.json().expect("JSON");
                assert_eq!(answered, minimal(&record), "{name}");
            }
            let line = request("POST", &path).header("prefer", "return=minimal");
            let line = line.header("content-type", "application/x-ndjson");
            let response = line.body(question.to_string()).send().expect("an answer");
            assert_eq!(header(&response, "preference-applied"), "return=minimal");
            assert_eq!(lines(response), [minimal(&record)], "{name}");
            for preference in ["return=representation, return=minimal", "respond-async", "return"] {
                let response = asked(preference);
                assert_eq!(header(&response, "preference-applied"), "");
                assert_eq!(response.json::<Value>().expect("JSON"), record, "{name}");
            }
        }
    }
}

#[test]
fn a_preference_is_followed_where_a_record_is_answered_and_nowhere_else() {
    let get = |query: &str| {
        let path = format!(
            "/v1/concentration?units=metric&reading.method=refractometer&reading.brix=5&\
             reading.factor=1.5&{query}"
        );
        request("GET", &path).header("prefer", "return=minimal").send().expect("an answer")
    };
    let record = get("");
    assert_eq!(header(&record, "preference-applied"), "return=minimal");
    let record: Value = record.json().expect("JSON");
    assert_eq!(record["answer"]["concentration"], 7.5);
    assert!(record.get("assumptions").is_none() && record["statement"].is_string(), "{record}");
    for query in ["pick=assumptions.0.text", "format=text", "format=csv"] {
        let whole = get(query);
        assert_eq!(header(&whole, "preference-applied"), "", "{query}");
        assert!(!whole.text().expect("text").is_empty());
    }
    let wrong = post("/v1/concentration", &json!({}));
    assert_eq!(header(&wrong, "preference-applied"), "");
}
