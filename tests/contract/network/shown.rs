//! Every problem that the OpenAPI document shows is one that the service sends.

use super::Program;
use super::faults::Both;
use super::keys::make;
use crate::server::{self, client, get, post, start};
use crate::spec;
use crate::support::changed;
use reqwest::blocking::Response;
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::io::{Read, Write};
use std::net::TcpStream;
use std::num::{NonZeroU32, NonZeroUsize};
use std::time::Duration;
use sumpwright_openapi::problem::ProblemKind;
use sumpwright_openapi::service::Services;
use sumpwright_server::configuration::Configuration;

/// The problems that were sent, by the last parts of their types.
type Sent = BTreeMap<String, Value>;

fn keep(sent: &mut Sent, response: Response) {
    let problem: Value = response.json().expect("a problem");
    let kind = problem["type"].as_str().and_then(|kind| kind.rsplit('/').next());
    sent.insert(kind.expect("a type").to_owned(), problem);
}

/// Documents that are refused for what they say.
fn of_documents(sent: &mut Sent) {
    let top_up = |at: &str, value: Value| {
        changed("top-up", |question| {
            *question.pointer_mut(at).expect("a member of the example") = value;
        })
    };
    keep(sent, post("/v1/top-up", &top_up("/sump/volume", "140 L".into())));
    keep(sent, post("/v1/top-up", &top_up("/sump/volume", (-140).into())));
    keep(sent, post("/v1/top-up", &top_up("/sump/volume", 240.into())));
    let blend = json!({
        "units": "metric",
        "reference": "invented example: order 27",
        "target": { "volume": 800, "concentration": 6 },
        "stocks": [
            { "name": "recycled", "concentration": 4.2 },
            { "name": "water", "concentration": 0 },
        ],
    });
    keep(sent, post("/v1/blend", &blend));
    let mut followed = blend;
    followed["target"]["concentration"] = 3.into();
    followed["limits"] = json!({ "hardness": { "max": 300 } });
    keep(sent, post("/v1/blend", &followed));
    let fallen = json!({
        "units": "metric",
        "sump": { "capacity": 1100 },
        "reading_uncertainty": { "volume": 0.006, "concentration": 0.002 },
        "log": [
            { "day": 0, "volume": 126, "concentration": 10.6,
              "added": { "volume": 113, "concentration": 96 } },
            { "day": 300, "volume": 92, "concentration": 4.3 },
            { "day": 302, "volume": 108, "concentration": 0.62 },
            { "day": 602, "volume": 33, "concentration": 0.0075 },
        ],
    });
    keep(sent, post("/v1/losses", &fallen));
}

/// Requests that are refused before their document is read.
fn of_requests(sent: &mut Sent) {
    let send = |request: reqwest::blocking::RequestBuilder| request.send().expect("an answer");
    keep(sent, get("/v1/topup"));
    keep(sent, send(server::request("PUT", "/v1/top-up")));
    keep(sent, send(server::request("GET", "/v1/top-up").header("accept", "image/png")));
    let long = format!("{{\"reference\":\"{}\"}}", "x".repeat(9 << 20));
    let document = server::request("POST", "/v1/top-up").body(long);
    keep(sent, send(document.header("content-type", "application/json")));
    let document = server::request("POST", "/v1/top-up").body("<sump/>");
    keep(sent, send(document.header("content-type", "application/xml")));
}

/// What a service with keys and limits refuses.
fn of_callers(sent: &mut Sent) {
    let (cells, line) = make(&["cells", "--in-address", "top-up", "concentration"]);
    let keyed = Program::start(&["--key-hashes", line.trim()]);
    let ask = |path: String| client().get(keyed.at(&path)).send().expect("an answer");
    keep(sent, ask("/v1".to_owned()));
    keep(sent, ask(format!("/v1/blend?units=metric&key={cells}")));
    let limited = Program::start(&["--requests-per-minute", "1"]);
    let ask = || client().get(limited.at("/v1")).send().expect("an answer");
    assert_eq!(ask().status(), 200);
    keep(sent, ask());
    let listed = Program::start(&["--cors-origins", "https://planning.example"]);
    let before = client().request(reqwest::Method::OPTIONS, listed.at("/v1/top-up"));
    let before = before.header("origin", "https://elsewhere.example");
    let before = before.header("access-control-request-method", "POST");
    keep(sent, before.send().expect("an answer"));
    let stopping = Program::start(&["--drain-seconds", "5"]);
    assert_eq!(client().get(stopping.at("/readyz")).send().expect("an answer").status(), 200);
    stopping.signal("TERM");
    stopping.logs("told to stop");
    keep(sent, client().get(stopping.at("/readyz")).send().expect("it still answers"));
}

/// What a service says that has a fault, or too much to do.
fn of_load(sent: &mut Sent) {
    let configuration = Configuration {
        answer_seconds: const { NonZeroU32::new(3).unwrap() },
        receive_seconds: NonZeroU32::MIN,
        at_once: NonZeroUsize::new(1),
        waiting: 0,
        ..Configuration::default()
    };
    let address = start(Services::of(&Both), configuration);
    let endless = |goes_on: bool, panics: bool| {
        let document = json!({ "units": "metric", "goes_on": goes_on, "panics": panics });
        let request = client().post(format!("{address}/v1/endless")).json(&document);
        request.header("x-request-id", "order-27-batch-2").send().expect("an answer")
    };
    keep(sent, endless(false, true));
    std::thread::scope(|scope| {
        let cut = scope.spawn(|| endless(true, false));
        std::thread::sleep(Duration::from_millis(700));
        keep(sent, endless(false, false));
        keep(sent, cut.join().expect("an answer"));
    });
    let host = address.strip_prefix("http://").expect("an address");
    let mut caller = TcpStream::connect(host).expect("it listens");
    caller.set_read_timeout(Some(Duration::from_secs(20))).expect("a time");
    let half = "POST /v1/faulty HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\n\
                content-length: 100\r\n\r\n{\"units\":";
    caller.write_all(half.as_bytes()).expect("it reads");
    let mut answer = String::new();
    let mut part = [0; 4096];
    while let Ok(read @ 1..) = caller.read(&mut part) {
        answer.push_str(&String::from_utf8_lossy(&part[..read]));
        if answer.ends_with('}') {
            break;
        }
    }
    let (_, body) = answer.split_once("\r\n\r\n").expect("a body");
    sent.insert("too-slow".to_owned(), serde_json::from_str(body).expect("a problem"));
}

/// A problem without the number of seconds to wait, which depends on when it is asked.
fn without_seconds(problem: &Value) -> Value {
    let mut problem = problem.clone();
    if let Some((told, _)) =
        problem["detail"].as_str().unwrap_or_default().split_once(" is answered in ")
    {
        problem["detail"] = told.to_owned().into();
    }
    problem
}

#[test]
fn every_problem_is_shown_as_it_is_sent() {
    let mut sent = Sent::new();
    of_documents(&mut sent);
    of_requests(&mut sent);
    of_callers(&mut sent);
    of_load(&mut sent);
    let spec = spec();
    let mut wrong = Vec::new();
    for kind in ProblemKind::ALL {
        let row = kind.row();
        let response = format!("/components/responses/Problem{}/content", row.status);
        let content = spec.pointer(&response).expect("a response");
        let shown = &content["application/problem+json"]["examples"][row.slug];
        let summary = shown["summary"].as_str().unwrap_or_default();
        assert!(summary.len() > 10, "{}: it is not said what was asked", row.slug);
        let really = sent.get(row.slug).unwrap_or_else(|| panic!("{} was not sent", row.slug));
        if without_seconds(&shown["value"]) != without_seconds(really) {
            wrong.push(format!("{}: {really}", row.slug));
        }
    }
    assert!(wrong.is_empty(), "shown otherwise than sent:\n{}", wrong.join("\n"));
}
