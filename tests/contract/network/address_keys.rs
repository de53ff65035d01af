//! Keys that stand in an address, for cells of a spreadsheet: what they may do, and where they are
//! never seen.

use super::keys::make;
use super::{Program, kind_of, refuses};
use crate::server::{client, header};
use crate::support::program::program;
use reqwest::blocking::Response;
use serde_json::Value;
use std::io::Write;
use std::time::{Duration, Instant};
use tempfile::NamedTempFile;

const ASKED: &str = "units=metric&sump.capacity=200&sump.volume=140&sump.concentration=5\
                     &target.concentration=8";

/// The service with a key for headers and one for addresses, and a file that has both.
struct Keyed {
    service: Program,
    mes: String,
    cells: String,
    file: NamedTempFile,
}

impl Keyed {
    fn start(flags: &[&str]) -> Self {
        let (mes, its_line) = make(&["mes"]);
        let (cells, other_line) = make(&["cells", "--in-address", "top-up", "concentration"]);
        let mut file = NamedTempFile::new().expect("room for a file");
        write!(file, "{its_line}{other_line}").expect("it takes text");
        let path = file.path().to_str().expect("a path").to_owned();
        let service = Program::start(&[&["--keys", &path], flags].concat());
        Self { service, mes, cells, file }
    }

    fn get(&self, path: &str) -> Response {
        client().get(self.service.at(path)).send().expect("an answer")
    }
}

fn detail(response: Response) -> String {
    let problem: Value = response.json().expect("a problem");
    problem["detail"].as_str().expect("a sentence").to_owned()
}

#[test]
fn a_key_in_an_address_reads_its_calculations_and_nothing_else() {
    let keyed = Keyed::start(&[]);
    let Keyed { service, mes, cells, .. } = &keyed;
    let address = format!("/v1/top-up?{ASKED}&pick=answer.drain,answer.after.volume");
    let answered = keyed.get(&format!("{address}&key={cells}"));
    assert_eq!(answered.status(), 200);
    assert_eq!(header(&answered, "cache-control"), "no-store, private");
    assert_eq!(header(&answered, "referrer-policy"), "no-referrer");
    assert_eq!(answered.text().expect("text"), "0.0\n200.0");
    // As spreadsheets do before they ask.
    for method in ["HEAD", "OPTIONS"] {
        let method = method.parse().expect("a method");
        let sent = client().request(method, service.at(&format!("{address}&key={cells}")));
        assert!(sent.send().expect("an answer").status().is_success());
    }
    let in_header = client().get(service.at(&address)).bearer_auth(cells).send();
    assert_eq!(in_header.expect("an answer").status(), 200, "it may stand in a header as well");

    let refused = |response: Response, status: u16, kind: &str| {
        assert_eq!(response.status(), status);
        assert!(header(&response, "www-authenticate").starts_with("Bearer realm="));
        assert_eq!(kind_of(response), kind);
    };
    for elsewhere in ["/v1/blend", "/v1", "/v1/top-up/example", "/metrics", "/v1/nowhere"] {
        refused(keyed.get(&format!("{elsewhere}?key={cells}")), 403, "not-allowed");
    }
    let posted = client().post(service.at(&format!("/v1/top-up?key={cells}"))).body("{}").send();
    refused(posted.expect("an answer"), 403, "not-allowed");
    let posted = client().post(service.at("/v1/top-up")).bearer_auth(cells).body("{}").send();
    refused(posted.expect("an answer"), 403, "not-allowed");
    refused(keyed.get(&format!("{address}&key={}", "0".repeat(64))), 401, "no-key");
    refused(keyed.get(&format!("{address}&key=")), 401, "no-key");
    refused(keyed.get(&address), 401, "no-key");
    assert_eq!(keyed.get(&format!("{address}&key={cells}&key={mes}")).status(), 400);

    // The key of a program is refused there, and its owner is told that others may have read it.
    let told = keyed.get(&format!("{address}&key={mes}"));
    assert_eq!(told.status(), 401);
    let told = detail(told);
    assert!(told.starts_with("This key may not stand in an address."), "{told}");
    assert!(told.contains("have it changed"), "{told}");
    let line = service.logs("a key that is not for addresses was sent in one");
    assert!(line.contains("mes") && !line.contains(mes.as_str()), "{line}");
    let posted = client().post(service.at(&format!("/v1/top-up?key={mes}"))).bearer_auth(mes);
    assert_eq!(posted.body("{}").send().expect("an answer").status(), 401);
}

/// Where no line says so, no key may stand in an address, and a service that is open to all does not
/// look at it.
#[test]
fn without_such_a_line_no_key_stands_in_an_address() {
    let (mes, line) = make(&["mes"]);
    let service = Program::start(&["--key-hashes", line.trim()]);
    let get = |path: &str| client().get(service.at(path)).send().expect("an answer");
    assert_eq!(get(&format!("/v1/top-up?{ASKED}&key={mes}")).status(), 401);
    let open = Program::start(&[]);
    let answered = client().get(open.at(&format!("/v1/top-up?{ASKED}&pick=answer.drain&key=any")));
    assert_eq!(answered.send().expect("an answer").text().expect("text"), "0.0");
    let posted = client().post(open.at("/v1/top-up?kye=abc")).body("{}").send().expect("an answer");
    assert_eq!(posted.status(), 400);
}

/// A cell never sees the body of an error.
#[test]
fn a_cell_is_told_in_text_what_is_wrong_with_its_key() {
    let keyed = Keyed::start(&["--requests-per-minute", "1"]);
    let cells = &keyed.cells;
    let told = |path: &str| {
        let response = keyed.get(path);
        assert_eq!(response.status(), 200, "{path}");
        assert_eq!(header(&response, "content-type"), "text/plain; charset=utf-8");
        response.text().expect("text")
    };
    let address = format!("/v1/top-up?{ASKED}&format=text&pick=answer.drain&problems=as_text");
    assert!(told(&address).starts_with("This service needs a key."));
    assert!(told(&format!("{address}&key=abc")).starts_with("The service does not know the key"));
    assert!(told(&format!("{address}&key={}", keyed.mes)).starts_with("This key may not stand"));
    let other = format!("/v1/blend?problems=as_text&key={cells}");
    assert_eq!(told(&other), "This key only asks by GET, and only for top-up, concentration.");
    assert_eq!(told(&format!("{address}&key={cells}")), "0.0");
    let limited = told(&format!("{address}&key={cells}"));
    assert!(limited.starts_with("You have sent more than 1 requests per minute."), "{limited}");
}

/// Not in the log at its loudest, the metrics, a problem, a page for a person, or another header.
#[test]
fn a_key_in_an_address_is_seen_nowhere() {
    let keyed = Keyed::start(&["--log", "trace", "--log-format", "json"]);
    let Keyed { service, mes, cells, .. } = &keyed;
    let other = "f".repeat(64);
    for key in [cells, mes, &other] {
        for path in [
            format!("/v1/top-up?{ASKED}&key={key}"),
            format!("/v1/top-up?{ASKED}&%6Bey={key}&pick=answer.drn"),
            format!("/v1/top-up?key={key}&sump.volme=1"),
            format!("/v1/top-up?key={key}&key={key}"),
            format!("/v1/forecast?key={key}"),
            format!("/v1/nowhere?key={key}"),
            format!("/nowhere?key={key}&problems=as_text"),
        ] {
            for accept in ["*/*", "text/html,application/xhtml+xml"] {
                let asked = client().get(service.at(&path)).header("accept", accept);
                let answer = asked.send().expect("an answer");
                let seen = |text: &str| text.contains(key.as_str());
                for (name, value) in answer.headers() {
                    assert!(!seen(value.to_str().unwrap_or_default()), "{name} of {path}");
                }
                assert_eq!(header(&answer, "referrer-policy"), "no-referrer", "{path}");
                assert!(!seen(&answer.text().expect("text")), "{path}");
            }
        }
    }
    let metrics = client().get(service.at("/metrics")).bearer_auth(mes).send().expect("metrics");
    let metrics = metrics.text().expect("text");
    client().get(service.at("/v1")).header("x-request-id", "the-last").send().expect("an answer");
    for line in service.log_until("the-last") {
        for key in [cells, mes, &other] {
            assert!(!line.contains(key.as_str()) && !metrics.contains(key.as_str()), "{line}");
        }
    }
}

#[test]
fn the_line_of_such_a_key_is_checked_and_read_again() {
    let keyed = Keyed::start(&[]);
    let path = keyed.file.path().to_str().expect("a path");
    let checked = program().args(["--keys", path, "--check-config"]).output().expect("it starts");
    let said = String::from_utf8(checked.stdout).expect("text");
    assert!(said.contains("# key mes: in a header\n"), "{said}");
    let cells = "# key cells: in an address too, to read only top-up, concentration\n";
    assert!(said.contains(cells), "{said}");

    let (_, line) = make(&["cells", "--in-address", "top-up"]);
    let wrong = line.replace("top-up", "topup");
    let said = refuses(&["--key-hashes", wrong.trim(), "--check-config"]);
    assert!(said.contains("Did you mean \"top-up\"?"), "{said}");
    let made =
        program().args(["key", "cells", "--in-address", "topup"]).output().expect("it starts");
    assert!(!made.status.success());

    // The key is limited to another calculation without a restart.
    let text = std::fs::read_to_string(path).expect("the file");
    std::fs::write(path, text.replace("top-up concentration", "blend")).expect("it takes text");
    let address = format!("/v1/top-up?{ASKED}&key={}", keyed.cells);
    let until = Instant::now() + Duration::from_secs(20);
    while keyed.get(&address).status() != 403 {
        assert!(Instant::now() < until, "the file was not read again");
        std::thread::sleep(Duration::from_millis(100));
    }
}
