//! Shutdown: readiness changes first, and accepted requests are answered.

use super::{Program, kind_of};
use crate::server::{client, header};
use std::io::{Read, Write};
use std::net::TcpStream;
use std::time::{Duration, Instant};

#[test]
fn readiness_turns_false_first_and_what_was_taken_is_finished() {
    let mut service = Program::start(&["--drain-seconds", "3"]);
    let example = client().get(service.at("/v1/top-up/example")).send().expect("an answer");
    let document = example.text().expect("text");
    // A document that is arriving when the signal to stop comes.
    let host = service.address.strip_prefix("http://").expect("an address").to_owned();
    let mut caller = TcpStream::connect(&host).expect("it listens");
    let (first, rest) = document.split_at(document.len() / 2);
    let head = format!(
        "POST /v1/top-up HTTP/1.1\r\nhost: {host}\r\ncontent-type: application/json\r\n\
         content-length: {}\r\n\r\n{first}",
        document.len()
    );
    caller.write_all(head.as_bytes()).expect("it reads");
    std::thread::sleep(Duration::from_millis(300));

    service.signal("TERM");
    service.logs("told to stop");
    let ready = client().get(service.at("/readyz")).send().expect("it still answers");
    assert_eq!(ready.status(), 503);
    assert_eq!(header(&ready, "retry-after"), "5");
    assert_eq!(header(&ready, "connection"), "close");
    assert_eq!(kind_of(ready), "stopping");
    assert_eq!(client().get(service.at("/livez")).send().expect("it lives").status(), 200);
    // New callers are answered too until draining ends.
    assert_eq!(client().get(service.at("/v1")).send().expect("an answer").status(), 200);
    std::thread::sleep(Duration::from_secs(4));
    assert!(
        service.child.try_wait().expect("a state").is_none(),
        "it waits for the requests it accepted"
    );

    caller.write_all(rest.as_bytes()).expect("it reads");
    let mut answer = String::new();
    caller.read_to_string(&mut answer).expect("it answers and closes");
    assert!(answer.starts_with("HTTP/1.1 200"), "{answer}");
    assert!(answer.ends_with('}'), "the answer is whole");
    let until = Instant::now() + Duration::from_secs(10);
    let ended = loop {
        if let Some(ended) = service.child.try_wait().expect("a state") {
            break ended;
        }
        assert!(Instant::now() < until, "it did not stop");
        std::thread::sleep(Duration::from_millis(50));
    };
    assert!(ended.success(), "{ended}");
}

#[test]
fn a_service_that_nobody_asks_anything_stops_at_once() {
    let mut service = Program::start(&[]);
    // An idle connection does not delay the shutdown.
    let kept = client();
    assert_eq!(kept.get(service.at("/livez")).send().expect("an answer").status(), 200);
    let began = Instant::now();
    service.signal("INT");
    assert!(service.child.wait().expect("it ends").success());
    assert!(began.elapsed() < Duration::from_secs(15), "{:?}", began.elapsed());
    drop(kept);
}
