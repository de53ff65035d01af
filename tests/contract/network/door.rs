//! Every address is guarded, however it is spelled.

mod raw;
mod spellings;

use super::Program;
use crate::server::start;
use crate::spec;
use raw::{Answer, Line};
use serde_json::Value;
use spellings::spellings;
use std::num::NonZeroU32;
use std::sync::LazyLock;
use sumpwright_openapi::service::Services;
use sumpwright_server::configuration::Configuration;

/// Methods besides GET, one of which does not exist.
const METHODS: [&str; 6] = ["POST", "HEAD", "OPTIONS", "PUT", "TRACE", "BREW"];

/// Every address of the service except the pages for a browser: those of the spec, with
/// its parameters filled in, and those that it leaves out.
fn addresses() -> Vec<String> {
    let spec = spec();
    let paths = spec["paths"].as_object().expect("paths").keys();
    let known = paths.map(|path| path.replace("{problem}", "no-key"));
    let known = known.map(|path| path.replace("{calculation}", "top-up"));
    let beside = ["/", "/page/page.js", "/page/forms.json", "/docs", "/docs/", "/v1/nowhere"];
    let mut all: Vec<String> = known.chain(beside.map(str::to_owned)).collect();
    all.push("/metrics".to_owned());
    all.sort_unstable();
    all.dedup();
    all
}

fn is_guarded(address: &str) -> bool {
    address == "/metrics" || address == "/v1" || address.starts_with("/v1/")
}

fn served(configuration: Configuration) -> String {
    let address = start(Services::new(), configuration);
    address.strip_prefix("http://").expect("an address").to_owned()
}

/// A server with one key.
static WITH_KEYS: LazyLock<String> = LazyLock::new(|| {
    let key = format!("someone sha256:{}", "5a".repeat(32));
    served(Configuration { key_hashes: vec![key], ..Configuration::default() })
});

/// A request that would be answered if it got in.
const QUESTION: &str = "units=metric&sump.capacity=200&sump.volume=140&sump.concentration=7\
                        &target.concentration=8";

/// A request that was refused at the door, or that is not HTTP.
fn stays_outside(answer: &Answer) -> bool {
    let no_http =
        matches!(answer.status, 400 | 431 | 505) && answer.header("x-request-id").is_none();
    matches!(answer.status, 401 | 404 | 405) || no_http
}

#[test]
fn no_spelling_of_an_address_gets_in_without_a_key() {
    let mut line = Line::to(&WITH_KEYS);
    let addresses = addresses();
    let mut public = Vec::new();
    for address in &addresses {
        let plain = line.ask("GET", address, "1.1");
        assert_eq!(is_guarded(address), plain.status == 401, "{address}: {}", plain.status);
        if !is_guarded(address) && !plain.body.is_empty() {
            public.push(plain.body);
        }
    }
    let mut asked = 0;
    for address in &addresses {
        for target in spellings(address) {
            let with = if target.contains('?') { '&' } else { '?' };
            let target = format!("{target}{with}{QUESTION}");
            // Each by GET, and by one of the other methods in turn.
            asked += 1;
            let answer = line.ask("GET", &target, "1.1");
            let is_public = answer.status == 307 || public.contains(&answer.body);
            assert!(stays_outside(&answer) || is_public, "{target}: {}", answer.text());
            let method = METHODS[asked % METHODS.len()];
            let other = line.ask(method, &target, "1.1");
            assert!(
                stays_outside(&other)
                    || answer.status != 401 && matches!(other.status, 200 | 204 | 307),
                "{method} {target}: {} {}",
                other.status,
                other.text()
            );
        }
        for version in ["1.0", "0.9", "2.0", "9.9"] {
            let answer = line.ask("GET", address, version);
            assert!(stays_outside(&answer) || !is_guarded(address), "{address} {version}");
        }
    }
    assert!(asked > 4_000, "{asked} were asked");
}

#[test]
fn what_has_no_address_stays_outside() {
    let mut line = Line::to(&WITH_KEYS);
    for target in ["*", "host:443", "v1", "http:", "http://", "?", "/\u{7f}", "/v1 x", "\\v1"] {
        for method in ["GET", "OPTIONS", "CONNECT", "PRI"] {
            let answer = line.ask(method, target, "1.1");
            assert!(
                stays_outside(&answer),
                "{method} {target}: {} {}",
                answer.status,
                answer.text()
            );
        }
    }
}

#[test]
fn every_spelling_that_is_answered_is_counted() {
    let a_minute = NonZeroU32::new(1_000_000);
    let configuration = Configuration { requests_per_minute: a_minute, ..Configuration::default() };
    let mut line = Line::to(&served(configuration));
    let mut answered = 0;
    for address in addresses().into_iter().filter(|address| is_guarded(address)) {
        for target in spellings(&address) {
            let answer = line.ask("GET", &target, "1.1");
            let counted = answer.header("ratelimit").is_some();
            let no_http = answer.header("x-request-id").is_none() && answer.status == 400;
            let is_page = target.starts_with("/docs/") && answer.status == 404;
            assert!(counted || no_http || is_page, "{target}: {}", answer.status);
            answered += usize::from(answer.status == 200);
        }
    }
    assert!(answered > 500, "{answered} reached something");
}

#[test]
fn one_that_is_spelled_otherwise_is_logged_and_counted_as_what_it_is() {
    let service = Program::start(&["--log-format", "json"]);
    let host = service.address.strip_prefix("http://").expect("an address").to_owned();
    let mut line = Line::to(&host);
    for target in ["/%761/top-up", "/v1/t%6Fp%2Dup", "http://elsewhere.example/v1/top-up"] {
        let answer = line.ask("GET", &format!("{target}?{QUESTION}"), "1.1");
        assert_eq!(answer.status, 200, "{target}: {}", answer.text());
        let logged: Value = serde_json::from_str(&service.logs("top-up\"")).expect("JSON");
        assert_eq!(logged["calculation"], "top-up", "{logged}");
    }
    for probe in ["/%6Civez", "/ready%7A", "/%6detrics"] {
        assert_eq!(line.ask("GET", probe, "1.1").status, 200, "{probe}");
    }
    let metrics = line.ask("GET", "/metrics", "1.1").text();
    let counted: Vec<&str> =
        metrics.lines().filter(|line| line.starts_with("sumpwright_requests_total")).collect();
    let expected = "sumpwright_requests_total{calculation=\"top-up\",outcome=\"answered\"} 3";
    assert_eq!(counted, [expected], "probes are not counted");
}

#[test]
fn an_address_and_its_example_are_spelled_alike() {
    let mut line = Line::to(&served(Configuration::default()));
    for name in ["top-up", "top%2Dup", "%74op-up", "t%6fp%2dup"] {
        let answered = line.ask("GET", &format!("/v1/{name}?{QUESTION}"), "1.1");
        let example = line.ask("GET", &format!("/v1/{name}/example"), "1.1");
        assert_eq!((answered.status, example.status), (200, 200), "{name}: {}", answered.text());
    }
    for name in ["Top-Up", "top%2Fup", "top-up;x", "top-up%00", "top-up%20"] {
        let answered = line.ask("GET", &format!("/v1/{name}?{QUESTION}"), "1.1");
        let example = line.ask("GET", &format!("/v1/{name}/example"), "1.1");
        assert_eq!((answered.status, example.status), (404, 404), "{name}: {}", answered.text());
    }
    let policy = line.ask("GET", "/%64ocs/", "1.1");
    assert!(policy.header("content-security-policy").is_some(), "{}", policy.status);
}
