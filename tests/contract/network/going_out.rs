//! What goes out beside the answer: packed where that is taken, with a tag, and with what caches go by.

use crate::SERVICES;
use crate::server::{get, header, post, request};
use crate::support::example;
use flate2::read::GzDecoder;
use reqwest::blocking::Response;
use std::io::Read;

fn packed(method: &str, path: &str, coding: &str) -> Response {
    let asked = request(method, path).header("accept-encoding", coding);
    let asked = match method {
        "POST" => asked.json(&example("recharge")),
        _ => asked,
    };
    asked.send().expect("an answer")
}

fn unpacked(response: Response) -> Vec<u8> {
    let packed = response.bytes().expect("bytes");
    let mut plain = Vec::new();
    GzDecoder::new(&packed[..]).read_to_end(&mut plain).expect("it is packed");
    plain
}

#[test]
fn what_is_long_is_packed_for_whoever_takes_it() {
    let plain = post("/v1/recharge", &example("recharge"));
    assert_eq!(header(&plain, "content-encoding"), "");
    assert!(header(&plain, "vary").contains("Accept-Encoding"), "{:?}", plain.headers());
    let plain = plain.bytes().expect("bytes");
    let answer = packed("POST", "/v1/recharge", "br, gzip;q=0.5");
    assert_eq!(header(&answer, "content-encoding"), "gzip");
    let unpacked_answer = unpacked(answer);
    assert_eq!(unpacked_answer, plain);
    for refusing in ["", "br", "gzip;q=0", "identity"] {
        let answer = packed("POST", "/v1/recharge", refusing);
        assert_eq!(header(&answer, "content-encoding"), "", "{refusing}");
        assert_eq!(answer.bytes().expect("bytes"), plain, "{refusing}");
    }
    let spec = packed("GET", "/openapi.json", "gzip");
    assert_eq!(header(&spec, "content-encoding"), "gzip");
    assert_eq!(unpacked(spec), SERVICES.openapi.as_bytes());
    // A cell's number is shorter as it is.
    let cell = "/v1/concentration?units=metric&reading.method=refractometer&reading.brix=6\
                &reading.factor=1.25&pick=answer.concentration";
    assert_eq!(header(&packed("GET", cell, "gzip"), "content-encoding"), "");
}

/// A table goes out while it comes in, packed or not.
#[test]
#[expect(clippy::naive_bytecount, reason = "a short text")]
fn a_table_is_packed_too() {
    let mut table =
        "units,sump.capacity,sump.volume,sump.concentration,target.concentration\n".to_owned();
    table.push_str(&"metric,200,140,7,8\n".repeat(2000));
    let ask = |coding: &str| {
        let asked = request("POST", "/v1/top-up?columns=answer.add.0.volume").body(table.clone());
        let asked = asked.header("content-type", "text/csv").header("accept-encoding", coding);
        asked.send().expect("an answer")
    };
    let plain = ask("identity").bytes().expect("a table");
    let answer = ask("gzip");
    assert_eq!(header(&answer, "content-encoding"), "gzip");
    assert_eq!(unpacked(answer), plain);
    assert_eq!(plain.iter().filter(|byte| **byte == b'\n').count(), 2001);
}

#[test]
fn what_has_not_changed_is_not_sent_again() {
    let question = "/v1/top-up?units=metric&sump.capacity=200&sump.volume=140&sump.concentration=7\
                    &target.concentration=8";
    let mut tags = Vec::new();
    for path in ["/openapi.json", "/v1", "/v1/top-up/example", question] {
        let first = get(path);
        let tag = header(&first, "etag").to_owned();
        assert!(tag.starts_with("W/\""), "{path} has the tag {tag:?}");
        assert_eq!(header(&first, "cache-control"), "no-cache", "{path}");
        let again = request("GET", path).header("if-none-match", &tag).send().expect("an answer");
        assert_eq!(again.status(), 304, "{path}");
        assert_eq!(header(&again, "etag"), tag, "{path}");
        assert_eq!(again.bytes().expect("nothing").len(), 0, "{path}");
        let other = request("GET", path).header("if-none-match", "W/\"0\"").send().expect("it");
        assert_eq!(other.status(), 200, "{path}");
        tags.push(tag);
    }
    tags.sort();
    tags.dedup();
    assert_eq!(tags.len(), 4);
    // A problem has no tag, and the answer hangs on what was accepted.
    let problem = get("/v1/top-up?units=metric");
    assert_eq!((header(&problem, "etag"), header(&problem, "cache-control")), ("", "no-cache"));
    let varies = get(question);
    let varies = header(&varies, "vary").to_owned();
    for name in ["Accept", "Prefer", "Accept-Encoding"] {
        assert!(varies.split(", ").any(|known| known == name), "{varies}");
    }
}

#[test]
fn an_address_that_cannot_be_read_is_refused() {
    for letter in ["Fr%E4se", "%ff%fe", "%c0%af", "%ed%a0%80", "%zz", "5%"] {
        let path = format!("/v1/top-up?units=metric&sump.capacity=200&reference={letter}");
        let told = get(&path);
        assert_eq!(told.status(), 400, "{letter}");
        let problem: serde_json::Value = told.json().expect("a problem");
        assert!(problem["detail"].as_str().expect("it").contains("reference"), "{problem}");
    }
}
