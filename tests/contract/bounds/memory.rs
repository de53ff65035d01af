//! The memory that one document may take.

use crate::server::client;
use crate::support::program::Program;
use serde_json::{Value, json};
use std::path::PathBuf;

/// Peak memory of the service in megabytes, if the system reports it.
fn most_in_memory(service: &Program) -> Option<u64> {
    let status = PathBuf::from(format!("/proc/{}/status", service.id()));
    let status = std::fs::read_to_string(status).ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().split(' ').next()?.parse::<u64>().ok().map(|kilobytes| kilobytes / 1024)
}

fn junk(entry: &str, many: usize) -> String {
    let stocks = vec![entry; many].join(",");
    let target = r#"{"volume":1,"concentration":5}"#;
    format!(r#"{{"units":"metric","target":{target},"stocks":[{stocks}]}}"#)
}

#[test]
fn junk_of_many_megabytes_takes_little_more_than_its_own_room() {
    let service = Program::start(&[]);
    let ask = |calculation: &str, document: String| {
        let request = client().post(service.at(&format!("/v1/{calculation}"))).body(document);
        let request = request.header("content-type", "application/json");
        let answer = request.send().expect("an answer");
        (answer.status().as_u16(), answer.bytes().expect("a body").len())
    };
    let unknown: Vec<String> = (0..700_000).map(|i| format!(r#""u{i}":1"#)).collect();
    let mut mixed = vec![r#"{"a":1,"b":[{},{},{}],"concentration":"x"}"#.to_owned(); 40_000];
    mixed.push("1".repeat(300));
    let documents = [
        ("blend", junk("{}", 1_000_000)),
        ("blend", junk("{}", 20_000)),
        ("blend", junk("1", 3_900_000)),
        ("blend", junk("[]", 20_000)),
        ("blend", junk(&mixed.join(","), 1)),
        ("top-up", format!("{{{}}}", unknown.join(","))),
    ];
    for (calculation, document) in documents {
        let sent = document.len();
        let (status, length) = ask(calculation, document);
        assert!(matches!(status, 400 | 413 | 422), "{sent} bytes: {status}");
        assert!(length < 50_000, "{sent} bytes are refused with {length}");
        let most = most_in_memory(&service).unwrap_or(0);
        assert!(most < 400, "after {sent} bytes {most} MB were taken");
    }
}

/// A valid request with too long an answer is refused before the answer is made.
#[test]
fn an_answer_that_would_be_too_long_is_refused_in_words() {
    let service = Program::start(&[]);
    let properties: serde_json::Map<String, Value> =
        (0..99).map(|i| (format!("followed_{i}"), json!(100 + i))).collect();
    let mut document = super::example("forecast");
    document["days"] = json!(3660);
    document["sump"]["properties"] = properties.into();
    document["changes"] = Value::Null;
    document["feeding"]["with"] = json!({ "kind": "premix", "concentration": 2.7 });
    document
        .as_object_mut()
        .expect("an object")
        .retain(|name, _| name != "limits" && name != "oil");
    for format in ["application/json", "image/svg+xml"] {
        let request = client().post(service.at("/v1/forecast")).header("accept", format);
        let answer = request.json(&document).send().expect("an answer");
        let status = answer.status().as_u16();
        let body = answer.text().expect("text");
        assert!(status == 422 || status == 413, "{status}: {} bytes", body.len());
        assert!(body.contains("fewer days"), "{body}");
    }
    let most = most_in_memory(&service).unwrap_or(0);
    assert!(most < 300, "{most} MB were taken");
}
