//! Rate limits, and which other sites may ask.

use super::{Program, kind_of};
use crate::server::{client, header};

#[test]
fn a_caller_past_its_rate_is_told_when_to_come_again() {
    let service = Program::start(&["--requests-per-minute", "3"]);
    let ask = || client().get(service.at("/v1")).send().expect("an answer");
    for left in [2, 1, 0] {
        let answer = ask();
        assert_eq!(answer.status(), 200);
        assert_eq!(header(&answer, "ratelimit-policy"), "\"requests\";q=3;w=60");
        assert!(header(&answer, "ratelimit").starts_with(&format!("\"requests\";r={left};t=")));
    }
    let refused = ask();
    assert_eq!(refused.status(), 429);
    let wait: u32 = header(&refused, "retry-after").parse().expect("seconds");
    assert!((1..=20).contains(&wait), "a request comes back every 20 s, not in {wait} s");
    assert_eq!(kind_of(refused), "too-many");
    // What a supervisor asks is not counted.
    assert_eq!(client().get(service.at("/readyz")).send().expect("an answer").status(), 200);
}

#[test]
fn pages_of_other_sites_may_ask_where_they_are_listed() {
    let preflight = |service: &Program, origin: &str| {
        let request = client().request(reqwest::Method::OPTIONS, service.at("/v1/top-up"));
        let request = request.header("origin", origin);
        let request = request.header("access-control-request-method", "POST");
        let request =
            request.header("access-control-request-headers", "authorization,content-type");
        request.send().expect("an answer")
    };
    let open = Program::start(&["--cors-origins", "https://planning.example"]);
    let allowed = preflight(&open, "https://planning.example");
    assert_eq!(header(&allowed, "access-control-allow-origin"), "https://planning.example");
    assert!(header(&allowed, "access-control-allow-headers").contains("authorization"));
    let refused = preflight(&open, "https://elsewhere.example");
    assert_eq!(header(&refused, "access-control-allow-origin"), "");
    let closed = Program::start(&[]);
    let unlisted = preflight(&closed, "https://planning.example");
    assert_eq!(header(&unlisted, "access-control-allow-origin"), "");
    assert_eq!(header(&unlisted, "allow"), "GET, HEAD, OPTIONS, POST");
}
