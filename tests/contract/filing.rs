//! What a record is filed by: digests of question and answer, and the codes of its units.

use crate::SERVICES;
use crate::server::{get, header, post, request};
use crate::support::example;
use serde_json::{Value, json};
use sumpwright_openapi::flat;

/// The digests of the examples' canonical forms (RFC 8785), by Python: see `filing.py`.
const RECORDED: &str = include_str!("filing.json");

fn filed(name: &str, document: &Value) -> Value {
    post(&format!("/v1/{name}?include=digests"), document).json().expect("a record")
}

/// The same question has the same digest whoever asks it, and whenever.
#[test]
fn a_question_has_the_digest_that_was_recorded() {
    let recorded: Value = serde_json::from_str(RECORDED).expect("JSON");
    let mut held = 0;
    for (name, question) in recorded.as_object().expect("digests") {
        let document = &question["question"];
        let record = filed(name, document);
        assert_eq!(record["digests"]["question"], question["digest"], "{name}");
        // In another order, and otherwise spaced.
        let turned: Value =
            document.as_object().expect("members").clone().into_iter().rev().collect();
        let text = serde_json::to_string_pretty(&turned).expect("JSON");
        let asked = request("POST", &format!("/v1/{name}?include=digests")).body(text);
        let asked = asked.header("content-type", "application/json").send().expect("an answer");
        let turned: Value = asked.json().expect("a record");
        assert_eq!(turned["digests"], record["digests"], "{name}");
        let mut query = form_urlencoded::Serializer::new(String::new());
        for (path, leaf) in flat::flatten(document) {
            query.append_pair(&path, &flat::leaf_text(leaf));
        }
        let asked = get(&format!("/v1/{name}?{}&include=digests", query.finish()));
        let flat: Value = asked.json().expect("a record");
        assert_eq!(flat["digests"], record["digests"], "{name}");
        held += 1;
    }
    assert!(held >= 5, "{held}");
}

#[test]
fn an_answer_has_the_digest_of_its_bytes_and_is_otherwise_as_it_was() {
    for service in SERVICES.iter().filter(|service| service.name != "cost-comparison") {
        let document = example(service.name);
        let path = format!("/v1/{}", service.name);
        let ask = |query: &str| {
            let asked = request("POST", &format!("{path}{query}")).json(&document);
            asked.header("accept-encoding", "gzip").send().expect("an answer")
        };
        let answer = ask("?include=digests");
        let digest = header(&answer, "content-digest").to_owned();
        assert_eq!(
            header(&answer, "content-encoding"),
            "",
            "the digest is of the bytes as they are"
        );
        let bytes = answer.bytes().expect("bytes");
        assert_eq!(digest, sumpwright_server::filing::digest_of(&bytes), "{}", service.name);
        let again = ask("?include=digests");
        assert_eq!(header(&again, "content-digest"), digest, "{}", service.name);
        let mut record: Value = serde_json::from_slice(&bytes).expect("JSON");
        let digests = record.as_object_mut().expect("a record").remove("digests").expect("they");
        let service_said = digests["service"].as_str().expect("a version");
        assert!(service_said.starts_with(env!("CARGO_PKG_VERSION")), "{service_said}");
        let plain: Value = post(&path, &document).json().expect("a record");
        assert_eq!(record, plain, "{}", service.name);
    }
    // Without the record's own members, by the header of the standard alone.
    let asked = request(
        "GET",
        "/v1/top-up?units=metric&sump.capacity=200&sump.volume=140\
                                &sump.concentration=7&target.concentration=8",
    );
    let answer = asked.header("want-content-digest", "sha-512=3, sha-256=10").send().expect("it");
    let digest = header(&answer, "content-digest").to_owned();
    assert_eq!(digest, sumpwright_server::filing::digest_of(&answer.bytes().expect("bytes")));
}

#[test]
fn units_come_as_codes_of_both_standards() {
    let document = json!({
        "units": "us",
        "sump": { "capacity": 50, "volume": 40, "concentration": 5 },
        "target": { "concentration": 8 },
    });
    let record: Value = post("/v1/top-up?include=units", &document).json().expect("a record");
    let code = |pointer: &str| &record["unit_codes"][pointer];
    let gallon = json!({ "ucum": "[gal_us]", "quantity": "Volume", "rec20": "GLL" });
    assert_eq!(*code("/answer/add/0/volume"), gallon);
    assert_eq!(code("/answer/after/concentration")["rec20"], "P1");
    assert_eq!(code("/answer/after/concentration")["quantity"], "Concentration");
    // Every number of the record has its codes, but those whose unit is no code's.
    let numbers = flat::flatten(&record["answer"]).into_iter().filter(|(_, leaf)| leaf.is_number());
    for (path, _) in numbers {
        let pointer = format!("/answer/{}", path.replace('.', "/"));
        assert!(code(&pointer).is_object(), "{pointer}");
    }
    for (query, words) in [
        ("include=unit", "units, digests"),
        ("include=units&pick=statement", "Leave out pick"),
        ("include=units&format=csv", "ask for JSON"),
    ] {
        let refused = post(&format!("/v1/top-up?{query}"), &document);
        assert_eq!(refused.status().as_u16() / 100, 4, "{query}");
        let problem: Value = refused.json().expect("a problem");
        assert!(problem["detail"].as_str().expect("it").contains(words), "{problem}");
    }
}
