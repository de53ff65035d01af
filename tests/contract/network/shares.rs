//! One caller's study never stops the others.

use super::faults::{Done, done, until_cut_off};
use crate::server::{client, start};
use crate::support::example;
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::num::{NonZeroU32, NonZeroUsize};
use std::time::{Duration, Instant};
use sumpwright_engine::calculation::{Calculation, Outcome};
use sumpwright_engine::catalogue::{Catalogue, Visitor};
use sumpwright_engine::sentence;
use sumpwright_engine::text::{Refusal, Sentence};
use sumpwright_openapi::service::Services;
use sumpwright_server::configuration::Configuration;
use utoipa::ToSchema;

/// A calculation that says how much work it will be, and goes on until it is cut off where that is much.
/// It waits and computes nothing: what a queue does with it is the same.
#[derive(Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
struct Study {
    /// Whether it is much.
    is_large: bool,
}

impl Calculation for Study {
    const NAME: &'static str = "study";
    const SUMMARY: &'static str = "May be much work";
    const EXAMPLE: &'static str = r#"{"units":"metric","is_large":false}"#;
    type Answer = Done;

    fn work_ahead(&self) -> usize {
        if self.is_large { 10_000_000 } else { 1 }
    }

    fn calculate(&self) -> Result<Outcome<Done>, Refusal> {
        if self.is_large {
            until_cut_off();
        }
        Ok(done())
    }

    fn statement(&self, _: &Done) -> Sentence {
        sentence!("It was done.")
    }
}

struct Studies;

impl Catalogue for Studies {
    fn show(&self, visitor: &mut impl Visitor) {
        visitor.visit::<Study>();
    }
}

/// A document that takes long.
fn slow() -> Value {
    json!({ "units": "metric", "is_large": true })
}

/// A document whose answer is not as quick as that it need not wait its turn.
fn small() -> Value {
    json!({ "units": "metric", "is_large": false })
}

/// Two planners with the slowest documents there are, each a caller of its own, hold all that large
/// calculations may hold. What a third one asks is answered while they go on.
#[test]
fn slow_documents_of_several_callers_do_not_hold_up_a_small_question() {
    let configuration = Configuration {
        at_once: NonZeroUsize::new(2),
        waiting: 4,
        waiting_each: Some(4),
        answer_seconds: const { NonZeroU32::new(4).unwrap() },
        trusted_proxies: vec!["127.0.0.1".parse().expect("an address")],
        ..Configuration::default()
    };
    let address = start(Services::of(&Studies), configuration);
    let study = slow();
    std::thread::scope(|scope| {
        let ask = |caller: &'static str| {
            let (address, study) = (&address, &study);
            scope.spawn(move || post(address, caller, "study", study).status())
        };
        // One is answered; three wait, which are all the places that large calculations may take.
        let studies: Vec<_> =
            ["198.51.100.1", "198.51.100.2", "198.51.100.3", "198.51.100.4"].map(ask).into();
        wait_until_queued(&address, 3);
        let refused = post(&address, "198.51.100.5", "study", &study);
        assert_eq!(refused.status(), 503);
        let problem: Value = refused.json().expect("a problem");
        let detail = problem["detail"].as_str().expect("a sentence");
        assert!(detail.contains("3 calculations that take long are waiting"), "{detail}");
        for _ in 0..3 {
            assert_eq!(post(&address, "192.0.2.1", "study", &small()).status(), 200);
        }
        assert!(studies.iter().all(|one| !one.is_finished()), "no study was done before");
        for one in studies {
            let status = one.join().expect("an answer");
            assert!(status == 200 || status == 503, "{status}");
        }
    });
}

/// Waits until so many calculations wait for a slot.
fn wait_until_queued(address: &str, number: usize) {
    let queued = || {
        let metrics = client().get(format!("{address}/metrics")).send().expect("metrics");
        let metrics = metrics.text().expect("text");
        let waiting =
            metrics.lines().find_map(|line| line.strip_prefix("sumpwright_queue_waiting "));
        waiting.expect("the number of those that wait").to_owned()
    };
    let began = Instant::now();
    while queued() != number.to_string() {
        assert!(began.elapsed() < Duration::from_secs(10), "{} wait", queued());
        std::thread::sleep(Duration::from_millis(20));
    }
}

/// Long documents that one caller begins and never ends fill its own share of what is held, and nobody else's.
#[test]
fn a_caller_with_unfinished_documents_keeps_nobody_out() {
    const LENGTH: usize = 8_380_000;
    let configuration = Configuration {
        trusted_proxies: vec!["127.0.0.1".parse().expect("an address")],
        ..Configuration::default()
    };
    let address = start(Services::new(), configuration);
    let host = address.strip_prefix("http://").expect("an address");
    let blanks = vec![b' '; LENGTH - 1];
    // 128 MiB are its share, and one more is begun.
    let mut begun: Vec<TcpStream> = (0..17)
        .map(|_| {
            let mut stream = TcpStream::connect(host).expect("it listens");
            let head = format!(
                "POST /v1/top-up HTTP/1.1\r\nhost: x\r\ncontent-type: application/json\r\n\
                 x-forwarded-for: 198.51.100.1\r\ncontent-length: {LENGTH}\r\n\r\n"
            );
            stream.write_all(head.as_bytes()).expect("it is read");
            // Whoever is refused may be cut off while it sends.
            let _ = stream.write_all(&blanks);
            stream.set_read_timeout(Some(Duration::from_millis(200))).expect("a time");
            stream
        })
        .collect();
    let mut one_is_refused = || {
        begun.iter_mut().any(|stream| {
            let mut told = [0; 12];
            stream.read(&mut told).is_ok_and(|read| told[..read].ends_with(b"503"))
        })
    };
    let began = Instant::now();
    while !one_is_refused() {
        assert!(began.elapsed() < Duration::from_secs(20), "nothing of it is refused");
    }
    // Its own long documents are too many now, its ordinary ones are answered, and of others all.
    let mut long = example("top-up").to_string();
    long.push_str(&" ".repeat(LENGTH / 2));
    let ask = |caller: &str, body: &str| {
        let asked = client().post(format!("{address}/v1/top-up")).body(body.to_owned());
        let asked = asked.header("content-type", "application/json");
        asked.header("x-forwarded-for", caller).send().expect("an answer").status()
    };
    assert_eq!(ask("198.51.100.1", &example("top-up").to_string()), 200);
    assert_eq!(ask("192.0.2.1", &example("top-up").to_string()), 200);
    assert_eq!(ask("192.0.2.1", &long), 200);
}

fn post(address: &str, caller: &str, name: &str, document: &Value) -> reqwest::blocking::Response {
    let asked = client().post(format!("{address}/v1/{name}")).json(document);
    asked.header("x-forwarded-for", caller).send().expect("an answer")
}

#[test]
fn a_caller_has_so_many_slots_and_places_and_another_one_is_answered_beside_them() {
    let configuration = Configuration {
        at_once: NonZeroUsize::new(2),
        waiting: 4,
        answer_seconds: const { NonZeroU32::new(4).unwrap() },
        trusted_proxies: vec!["127.0.0.1".parse().expect("an address")],
        ..Configuration::default()
    };
    let address = start(Services::of(&Studies), configuration);
    let round = small();
    let alone = {
        let began = Instant::now();
        assert_eq!(post(&address, "192.0.2.1", "study", &round).status(), 200);
        began.elapsed()
    };
    // One is answered and two wait: half of the places. What comes then is beyond the planner's share.
    let study = slow();
    std::thread::scope(|scope| {
        let of_planner = || post(&address, "198.51.100.7", "study", &study).status();
        let three: Vec<_> = (0..3).map(|_| scope.spawn(of_planner)).collect();
        wait_until_queued(&address, 2);
        let refused = post(&address, "198.51.100.7", "study", &round);
        assert_eq!(refused.status(), 503);
        let problem: Value = refused.json().expect("a problem");
        let detail = problem["detail"].as_str().expect("a sentence");
        assert!(detail.contains("1 of your calculations") && detail.contains("2 more"), "{detail}");
        // Whoever the proxy does not name is another caller, and so is whoever writes the header themselves.
        let began = Instant::now();
        assert_eq!(post(&address, "198.51.100.7, 192.0.2.1", "study", &round).status(), 200);
        let beside = began.elapsed();
        assert!(three.iter().any(|one| !one.is_finished()), "the study is still under way");
        // Of two slots one was free; the cores are shared, and other tests run here as well.
        let most = 8 * alone + Duration::from_secs(2);
        assert!(beside < most, "{beside:?} beside the study, {alone:?} alone");
        for one in three {
            let status = one.join().expect("an answer");
            assert!(status == 200 || status == 503, "{status}");
        }
    });
}
