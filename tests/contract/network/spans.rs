//! Spans to a collector: OTLP over HTTP, as protocol buffers.

use super::Program;
use crate::server::client;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpListener;
use std::sync::mpsc::channel;
use std::time::Duration;

#[test]
fn a_span_goes_to_the_collector_under_the_callers_trace() {
    let collector = TcpListener::bind("127.0.0.1:0").expect("a free port");
    let endpoint = format!("http://{}/v1/traces", collector.local_addr().expect("its address"));
    let (send, received) = channel();
    std::thread::spawn(move || {
        let (mut caller, _) = collector.accept().expect("it calls");
        let mut reader = BufReader::new(caller.try_clone().expect("both ways"));
        let mut head = String::new();
        while !head.ends_with("\r\n\r\n") {
            reader.read_line(&mut head).expect("a head");
        }
        let head = head.to_ascii_lowercase();
        let length = head.split_once("content-length: ").expect("a length").1;
        let length = length.lines().next().and_then(|length| length.parse().ok());
        let mut body = vec![0; length.expect("a number")];
        reader.read_exact(&mut body).expect("a body");
        let answer = b"HTTP/1.1 200 OK\r\ncontent-length: 0\r\nconnection: close\r\n\r\n";
        caller.write_all(answer).expect("it reads");
        send.send((head, body)).expect("somebody waits");
    });

    let service = Program::start(&["--otlp-endpoint", &endpoint]);
    let request = client().get(service.at("/v1/top-up/example"));
    let given = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01";
    let request = request.header("traceparent", given).header("tracestate", "shop=opaque-4711");
    let answer = request.header("x-request-id", "order-27").send().expect("an answer");
    let place = crate::server::header(&answer, "traceparent").to_owned();
    let (trace, span) = (&place[3..35], &place[36..52]);
    assert_eq!(trace, "4bf92f3577b34da6a3ce929d0e0e4736");

    // Spans that have not been sent are sent at the end.
    service.signal("TERM");
    let (head, body) = received.recv_timeout(Duration::from_secs(20)).expect("spans arrive");
    assert!(head.starts_with("post /v1/traces "), "{head}");
    assert!(head.contains("content-type: application/x-protobuf"), "{head}");
    let holds = |bytes: &[u8]| body.windows(bytes.len()).any(|found| found == bytes);
    let bytes = |hexadecimal: &str| {
        let pairs = hexadecimal.as_bytes().chunks(2);
        let byte = |pair: &[u8]| u8::from_str_radix(std::str::from_utf8(pair).ok()?, 16).ok();
        pairs.map(|pair| byte(pair).expect("two digits")).collect::<Vec<u8>>()
    };
    for part in [trace, span, "00f067aa0ba902b7"] {
        assert!(holds(&bytes(part)), "{part} is not in what arrived");
    }
    for word in [
        "sumpwright",
        "GET /v1/{calculation}/example",
        "/v1/top-up/example",
        "http.route",
        "http.response.status_code",
        "shop=opaque-4711",
        "order-27",
    ] {
        assert!(holds(word.as_bytes()), "{word} is not in what arrived");
    }
}
