//! Faults and load: panics, endless calculations, slow and broken senders.

use super::kind_of;
use crate::server::{self, client, header, start};
use reqwest::blocking::Response;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::num::{NonZeroU32, NonZeroUsize};
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use sumpwright_engine::calculation::{Calculation, Outcome};
use sumpwright_engine::catalogue::{Catalogue, Visitor};
use sumpwright_engine::numerics::cut_off;
use sumpwright_engine::sentence;
use sumpwright_engine::text::{Refusal, Sentence};
use sumpwright_openapi::service::Services;
use sumpwright_server::configuration::Configuration;
use utoipa::ToSchema;

/// A calculation with a fault.
#[derive(Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
struct Faulty {
    /// Whether it panics.
    panics: bool,
}

/// A calculation that may never end, or panic.
#[derive(Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
struct Endless {
    /// Whether it runs until it is cut off.
    goes_on: bool,
    /// Whether it panics.
    panics: bool,
}

/// The answer of both.
#[derive(Serialize, Deserialize, ToSchema)]
pub(super) struct Done {
    /// That the calculation was done.
    done: bool,
}

pub(super) fn done() -> Outcome<Done> {
    let answer = Done { done: true };
    Outcome {
        answer,
        findings: Vec::new(),
        balance: None,
        assumptions: Vec::new(),
        cautions: Vec::new(),
    }
}

/// Waits, and computes nothing.
pub(super) fn until_cut_off() -> ! {
    loop {
        cut_off::look();
        std::thread::sleep(Duration::from_millis(5));
    }
}

impl Calculation for Faulty {
    const NAME: &'static str = "faulty";
    const SUMMARY: &'static str = "Has a fault";
    const EXAMPLE: &'static str = r#"{"units":"metric","panics":false}"#;
    const IS_QUICK: bool = true;
    type Answer = Done;

    fn calculate(&self) -> Result<Outcome<Done>, Refusal> {
        assert!(!self.panics, "the fault of this calculation");
        Ok(done())
    }

    fn statement(&self, _: &Done) -> Sentence {
        sentence!("It was done.")
    }
}

impl Calculation for Endless {
    const NAME: &'static str = "endless";
    const SUMMARY: &'static str = "May never end";
    const EXAMPLE: &'static str = r#"{"units":"metric","goes_on":false,"panics":false}"#;
    type Answer = Done;

    fn calculate(&self) -> Result<Outcome<Done>, Refusal> {
        assert!(!self.panics, "the fault of this calculation");
        if self.goes_on {
            until_cut_off();
        }
        Ok(done())
    }

    fn statement(&self, _: &Done) -> Sentence {
        sentence!("It was done.")
    }
}

/// Both of them.
pub(super) struct Both;

impl Catalogue for Both {
    fn show(&self, visitor: &mut impl Visitor) {
        visitor.visit::<Faulty>();
        visitor.visit::<Endless>();
    }
}

/// A server of both, which cuts off after three seconds, answers two at once and lets
/// one wait.
static ADDRESS: LazyLock<String> = LazyLock::new(|| {
    let configuration = Configuration {
        answer_seconds: const { NonZeroU32::new(3).unwrap() },
        receive_seconds: NonZeroU32::MIN,
        at_once: NonZeroUsize::new(2),
        at_once_each: NonZeroUsize::new(2),
        waiting: 1,
        ..Configuration::default()
    };
    start(Services::of(&Both), configuration)
});

fn post(calculation: &str, document: &Value) -> Response {
    let address = format!("{}/v1/{calculation}", *ADDRESS);
    client().post(address).json(document).send().expect("an answer")
}

fn faulty(panics: bool) -> Response {
    post("faulty", &json!({ "units": "metric", "panics": panics }))
}

fn endless(goes_on: bool, panics: bool) -> Response {
    post("endless", &json!({ "units": "metric", "goes_on": goes_on, "panics": panics }))
}

#[test]
fn a_panic_is_one_500_with_an_id_and_everybody_else_is_answered() {
    // More panics than there are workers and slots.
    for turn in 0..10 {
        let failed = if turn % 2 == 0 { faulty(true) } else { endless(false, true) };
        assert_eq!(failed.status(), 500);
        let id = header(&failed, "x-request-id").to_owned();
        let problem: Value = failed.json().expect("a problem");
        assert_eq!(problem["type"], "/problems/internal");
        let detail = problem["detail"].as_str().expect("a sentence");
        assert!(detail.contains(&id), "{detail}");
        assert!(!detail.contains("the fault of"), "the fault is only in the log");
    }
    assert_eq!(faulty(false).status(), 200);
}

#[test]
fn a_row_that_panics_says_so_and_the_others_are_answered() {
    let table = "units,panics\nmetric,false\nmetric,true\nmetric,false\n";
    let request = client().post(format!("{}/v1/faulty", *ADDRESS)).body(table);
    let answer = request.header("content-type", "text/csv").send().expect("an answer");
    let text = answer.text().expect("text");
    let rows: Vec<&str> = text.lines().collect();
    assert_eq!(rows.len(), 4, "{text}");
    assert!(rows[2].contains("failed on this row"), "{text}");
    assert!(rows[1].contains("true") && rows[3].contains("true"), "{text}");
}

#[test]
fn a_row_that_does_not_end_ends_its_table_and_the_last_row_says_so() {
    let table = "units,goes_on,panics\nmetric,false,false\nmetric,true,false\nmetric,false,false\n";
    let configuration =
        Configuration { answer_seconds: NonZeroU32::MIN, ..Configuration::default() };
    let address = start(Services::of(&Both), configuration);
    let request = client().post(format!("{address}/v1/endless?columns=answer.done")).body(table);
    let answer = request.header("content-type", "text/csv").send().expect("an answer");
    let text = answer.text().expect("it does not break off");
    let rows: Vec<&str> = text.lines().collect();
    assert_eq!(rows.len(), 3, "{text}");
    assert!(rows[1].starts_with("metric,false,false,true,"), "{text}");
    assert!(rows[2].contains("The table ends before this row."), "{text}");
    assert!(rows[2].contains("cut off after 1 s"), "{text}");
}

/// One after the other, because they share the queue.
#[test]
fn the_queue_cuts_off_sends_away_and_recovers() {
    let began = Instant::now();
    let cut = endless(true, false);
    assert_eq!(cut.status(), 503);
    assert_eq!(header(&cut, "retry-after"), "", "the same again would take as long");
    assert_eq!(kind_of(cut), "too-long");
    assert!(began.elapsed() >= Duration::from_secs(3));

    // Two are answered, one waits; the fourth is refused.
    let three: Vec<_> =
        (0..3).map(|_| std::thread::spawn(|| endless(true, false).status())).collect();
    std::thread::sleep(Duration::from_millis(500));
    let refused = endless(false, false);
    assert_eq!(refused.status(), 503);
    assert_eq!(header(&refused, "retry-after"), "1");
    assert_eq!(kind_of(refused), "too-busy");
    assert!(three.iter().all(|one| !one.is_finished()), "it was refused at once");
    // Quick questions do not wait behind them.
    assert_eq!(faulty(false).status(), 200);
    for one in three {
        assert_eq!(one.join().expect("an answer"), 503);
    }
    // The calculations that were cut off have freed their slots and threads.
    assert_eq!(endless(false, false).status(), 200);
}

/// The response to these bytes when nothing more is sent.
fn raw(bytes: &[u8]) -> String {
    let host = ADDRESS.strip_prefix("http://").expect("an address");
    let mut caller = TcpStream::connect(host).expect("it listens");
    caller.set_read_timeout(Some(Duration::from_secs(20))).expect("a time");
    caller.write_all(bytes).expect("it reads");
    let mut answer = Vec::new();
    let mut part = [0; 4096];
    while let Ok(read @ 1..) = caller.read(&mut part) {
        answer.extend_from_slice(&part[..read]);
        if answer.ends_with(b"}") {
            break;
        }
    }
    String::from_utf8_lossy(&answer).into_owned()
}

#[test]
fn half_a_request_is_not_waited_for() {
    let answer = raw(b"POST /v1/faulty HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\n\
          content-length: 100\r\n\r\n{\"units\":");
    assert!(answer.starts_with("HTTP/1.1 408"), "{answer}");
    assert!(answer.contains("/problems/too-slow"), "{answer}");
    // A connection with a head that never ends is closed without a response.
    let answer = raw(b"GET /v1 HTTP/1.1\r\nhost: x\r\nx-slow: ");
    assert!(answer.is_empty() || answer.starts_with("HTTP/1.1 408"), "{answer}");
    assert_eq!(faulty(false).status(), 200);
}

#[test]
fn what_is_too_long_too_deep_or_packed_is_refused_in_words() {
    let send = |body: Vec<u8>, encoding: Option<&str>| {
        let request = server::request("POST", "/v1/top-up").body(body);
        let request = request.header("content-type", "application/json");
        let request = encoding.iter().fold(request, |r, e| r.header("content-encoding", *e));
        request.send().expect("an answer")
    };
    // A document whose stated length is too long need not be sent.
    let head = format!(
        "POST /v1/faulty HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\n\
         content-length: {}\r\n\r\n",
        9 << 20
    );
    let answer = raw(head.as_bytes());
    assert!(answer.starts_with("HTTP/1.1 413"), "{answer}");

    for deep in [100, 100_000] {
        let nested = format!("{}1{}", "[".repeat(deep), "]".repeat(deep));
        let within = format!("{{\"units\":\"metric\",\"sump\":{nested}}}");
        for body in [nested, within] {
            let refused = send(body.into_bytes(), None);
            assert_eq!(refused.status(), 400, "{deep} deep");
            assert_eq!(kind_of(refused), "malformed");
        }
    }

    for deep in [99, 100, 20_000] {
        let path = format!("sump{}", ".a".repeat(deep));
        let refused = server::request("GET", &format!("/v1/top-up?{path}=1")).send();
        let refused = refused.expect("an answer");
        assert_eq!(refused.status(), 400, "{deep} steps");
        assert_eq!(kind_of(refused), "malformed");
        let table = server::request("POST", &format!("/v1/top-up?columns={path}"));
        let table = table.header("content-type", "text/csv").body(format!("{path}\n1\n"));
        assert_eq!(table.send().expect("an answer").status(), 400, "{deep} steps in a heading");
    }

    let endless = server::request("POST", "/v1/top-up").header("content-type", "text/csv");
    let refused = endless.body(vec![b'a'; 9 << 20]).send().expect("an answer");
    assert_eq!(refused.status(), 413);

    let mut packed = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    packed.write_all(&vec![b' '; 64 << 20]).expect("it packs");
    let bomb = packed.finish().expect("it packs");
    assert!(bomb.len() < 100_000);
    let refused = send(bomb, Some("gzip"));
    assert_eq!(refused.status(), 415);
    assert_eq!(kind_of(refused), "unsupported-media-type");
}
