//! What an operator relies on: misspellings refused, what would fail later said, metrics of process,
//! build and callers, refusals of pages of other sites.

use super::keys::make;
use super::{Program, refuses};
use crate::server::{client, header};
use crate::support::program::program;
use serde_json::Value;
use std::io::Write;
use std::net::TcpListener;
use std::time::{Duration, Instant};
use tempfile::NamedTempFile;

fn metrics(service: &Program, key: Option<&str>) -> String {
    let request = client().get(service.at("/metrics"));
    let request = key.iter().fold(request, reqwest::blocking::RequestBuilder::bearer_auth);
    request.send().expect("an answer").text().expect("text")
}

fn sample(text: &str, name: &str) -> Option<f64> {
    let line = text.lines().find_map(|line| line.strip_prefix(name)?.strip_prefix(' '))?;
    line.parse().ok()
}

#[test]
fn a_misspelt_variable_is_refused_and_a_blank_one_is_not_given() {
    let run = |name: &str, value: &str| {
        let output = program().arg("--check-config").env(name, value).output().expect("it starts");
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        (output.status.code(), said, String::from_utf8_lossy(&output.stdout).into_owned())
    };
    let (code, said, _) = run("SUMPWRIGHT_WAITNG", "6");
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("Did you mean \"SUMPWRIGHT_WAITING\"?"), "{said}");
    let (code, said, settings) = run("SUMPWRIGHT_WAITING", "");
    assert_eq!(code, Some(0), "{said}");
    assert!(settings.contains("waiting = 64"), "{settings}");
    // What Kubernetes tells every pod of a service of that name.
    for (name, value) in [
        ("SUMPWRIGHT_SERVICE_HOST", "10.0.0.1"),
        ("SUMPWRIGHT_PORT", "tcp://10.0.0.1:8787"),
        ("SUMPWRIGHT_PORT_8787_TCP_ADDR", "10.0.0.1"),
        ("SUMPWRIGHT_KEY", "the client's"),
    ] {
        assert_eq!(run(name, value).0, Some(0), "{name}");
    }
    let (code, said, _) = run("SUMPWRIGHT_PORT", "9000");
    assert_eq!(code, Some(2), "{said}");
}

#[test]
fn a_check_says_all_that_would_fail_later() {
    let taken = TcpListener::bind("127.0.0.1:0").expect("a free port");
    let address = taken.local_addr().expect("its address").to_string();
    let check = |flags: &[&str]| {
        let output = program().arg("check").args(flags).output().expect("it starts");
        (output.status.code(), String::from_utf8(output.stdout).expect("text"))
    };
    let flags = [
        "--bind",
        &address,
        "--keys",
        "/nowhere/keys",
        "--tls-certificate",
        "/nowhere/chain.pem",
        "--tls-key",
        "/nowhere/key.pem",
        "--page-engine",
        "/nowhere/engine.wasm",
    ];
    let (code, said) = check(&flags);
    assert_eq!(code, Some(1), "{said}");
    for wrong in ["/nowhere/keys", "/nowhere/chain.pem", "/nowhere/engine.wasm", &address[10..]] {
        let found = said.lines().any(|line| line.starts_with("# WRONG: ") && line.contains(wrong));
        assert!(found, "{wrong}: {said}");
    }
    assert!(said.ends_with("# The service would not start.\n"), "{said}");
    let (_, line) = make(&["mes"]);
    let endpoint = "http://127.0.0.1:1/v1/traces";
    let flags = ["--key-hashes", line.trim(), "--otlp-endpoint", endpoint, "--bind", "127.0.0.1:0"];
    let (code, said) = check(&flags);
    assert_eq!(code, Some(0), "{said}");
    assert!(said.contains("# key mes: in a header\n"), "{said}");
    assert!(said.contains("# to see to: nothing answers at otlp_endpoint"), "{said}");
    assert!(said.ends_with("# The service would start.\n"), "{said}");
    let (code, said) = check(&["--bind", "0.0.0.0:0"]);
    assert_eq!(code, Some(1), "{said}");
    assert!(said.contains("# WRONG: 0.0.0.0:0 can be reached"), "{said}");
}

#[test]
fn the_last_key_can_be_withdrawn_and_one_can_take_the_others_place() {
    let (old, its_line) = make(&["mes"]);
    let (new, other_line) = make(&["mes"]);
    let mut file = NamedTempFile::new().expect("room for a file");
    write!(file, "{its_line}{other_line}").expect("it takes text");
    let path = file.path().to_str().expect("a path").to_owned();
    let service = Program::start(&["--keys", &path]);
    let status = |key: &str| {
        let request = client().get(service.at("/v1")).bearer_auth(key);
        request.send().expect("an answer").status().as_u16()
    };
    let until = |key: &str, expected: u16| {
        let until = Instant::now() + Duration::from_secs(20);
        while status(key) != expected {
            assert!(Instant::now() < until, "the file was not read again");
            std::thread::sleep(Duration::from_millis(100));
        }
    };
    assert_eq!((status(&old), status(&new)), (200, 200), "both hold under one name");
    let text = metrics(&service, Some(&new));
    assert_eq!(sample(&text, "sumpwright_keys"), Some(2.0), "{text}");
    assert!(
        sample(&text, "sumpwright_caller_requests_total{caller=\"mes\"}") >= Some(2.0),
        "{text}"
    );
    assert!(!text.contains("certificate"), "there is none: {text}");

    // A line with a fault is no key, and the others hold.
    std::fs::write(&path, format!("{other_line}half a li")).expect("it takes text");
    until(&old, 401);
    assert_eq!(status(&new), 200);
    let line = service.logs("a line of the new keys is invalid");
    assert!(line.contains("line 2"), "{line}");
    let text = metrics(&service, Some(&new));
    let failed = "sumpwright_reloads_total{of=\"keys\",outcome=\"failed\"}";
    assert_eq!(sample(&text, failed), Some(1.0), "{text}");
    std::fs::write(&path, "# nobody\n").expect("it takes text");
    until(&new, 401);
    service.logs("no key is left");
    std::fs::write(&path, other_line).expect("it takes text");
    until(&new, 200);
    // A file that is gone has no lines.
    std::fs::remove_file(&path).expect("it is there");
    until(&new, 401);
}

#[test]
fn metrics_tell_of_the_process_and_of_what_it_was_built_from() {
    let service = Program::start(&[]);
    assert_eq!(client().get(service.at("/v1")).send().expect("an answer").status(), 200);
    let text = metrics(&service, None);
    let build = text.lines().find(|line| line.starts_with("sumpwright_build_info{"));
    let build = build.expect("it says its version");
    assert!(build.contains(&format!("version=\"{}\"", env!("CARGO_PKG_VERSION"))), "{build}");
    if cfg!(target_os = "linux") {
        let memory = sample(&text, "process_resident_memory_bytes").expect("memory");
        assert!((1e6..1e10).contains(&memory), "{memory}");
        let files = sample(&text, "process_open_fds").expect("files");
        assert!((3.0..1000.0).contains(&files), "{files}");
        assert!(sample(&text, "process_max_fds") > Some(files), "{text}");
        assert!(sample(&text, "process_cpu_seconds_total") >= Some(0.0), "{text}");
        let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
        let started = sample(&text, "process_start_time_seconds").expect("a time");
        assert!((now.expect("now").as_secs_f64() - started).abs() < 100.0, "{started}");
    }
    // Each counter is declared by the name of its samples, as readers of the older format want it.
    assert!(text.contains("# TYPE sumpwright_requests_total counter\n"), "{text}");
    assert!(
        !text.contains("sumpwright_certificate") && !text.contains("sumpwright_reloads"),
        "{text}"
    );
    let request =
        client().get(service.at("/metrics")).header("accept", "application/openmetrics-text");
    let open = request.send().expect("an answer").text().expect("text");
    assert!(open.contains("# TYPE sumpwright_requests counter\n"), "{open}");
}

#[test]
fn a_page_of_another_site_is_refused_by_a_problem_with_an_id() {
    let service = Program::start(&["--cors-origins", "https://planning.example"]);
    let asked = client().request(reqwest::Method::OPTIONS, service.at("/v1/top-up"));
    let asked = asked.header("origin", "https://elsewhere.example");
    let refused = asked.header("access-control-request-method", "POST").send().expect("an answer");
    assert_eq!(refused.status(), 400);
    let id = header(&refused, "x-request-id").to_owned();
    assert_eq!(id.len(), 32);
    let problem: Value = refused.json().expect("a problem");
    assert_eq!(problem["type"], "/problems/other-site");
    let line = service.logs(&id);
    assert!(line.contains("other-site"), "{line}");
    let asked = client().get(service.at("/v1")).header("origin", "https://planning.example");
    let answered = asked.send().expect("an answer");
    assert_eq!(header(&answered, "access-control-allow-origin"), "https://planning.example");
    assert_eq!(answered.status(), 200);
}

#[test]
fn spans_that_are_lost_are_told_once() {
    let closed = TcpListener::bind("127.0.0.1:0").expect("a free port");
    let endpoint = format!("http://{}/v1/traces", closed.local_addr().expect("its address"));
    drop(closed);
    let service = Program::start(&["--otlp-endpoint", &endpoint]);
    let asked = client().get(service.at("/v1"));
    let traced = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01";
    assert_eq!(asked.header("traceparent", traced).send().expect("an answer").status(), 200);
    service.signal("TERM");
    let line = service.logs("spans are lost");
    assert!(line.contains("spans=1"), "{line}");
}

#[test]
fn settings_that_contradict_are_refused_as_ever() {
    assert!(refuses(&["--trusted-proxies", "proxy.example"]).contains("trusted-proxies"));
}
