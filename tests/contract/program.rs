//! The program on the command line.

use crate::SERVICES;
use crate::support::program::program;
use serde_json::Value;
use std::io::{BufRead, BufReader, Write};
use std::process::{Output, Stdio};

fn solve(calculation: &str, document: &str) -> Output {
    let mut child = program()
        .args(["solve", calculation, "-"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut input = child.stdin.take().expect("its input");
    input.write_all(document.as_bytes()).expect("it reads");
    drop(input);
    child.wait_with_output().expect("it ends")
}

#[test]
fn solve_answers_in_the_terminal_what_the_server_answers() {
    for service in SERVICES.iter() {
        let output = solve(service.name, service.example);
        assert!(output.status.success());
        let printed: Value = serde_json::from_slice(&output.stdout).expect("JSON");
        let answered = service.answer(service.example.as_bytes()).expect("an answer");
        assert_eq!(printed, serde_json::from_slice::<Value>(&answered).expect("JSON"));
    }
}

#[test]
fn solve_says_what_is_wrong_and_fails() {
    let output = solve("top-up", "{\"units\":\"metric\"}");
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stdout.is_empty());
    assert!(String::from_utf8_lossy(&output.stderr).contains("/problems/malformed"));
    let output = solve("topup", "{}");
    assert!(String::from_utf8_lossy(&output.stderr).contains("top-up"));
}

#[test]
fn spec_prints_the_document() {
    let output = program().arg("spec").output().expect("it runs");
    assert_eq!(String::from_utf8_lossy(&output.stdout), SERVICES.openapi);
}

#[test]
fn help_is_worth_reading() {
    let output = program().arg("--help").output().expect("it runs");
    let help = String::from_utf8_lossy(&output.stdout).into_owned();
    for word in ["solve", "spec", "--bind", "127.0.0.1:8787", "SUMPWRIGHT_LOG", "safety data sheet"]
    {
        assert!(help.contains(word), "--help does not mention {word}:\n{help}");
    }
}

/// Starts on an address, prints a request to paste, and answers that request.
#[test]
fn serving_prints_a_request_that_works_when_pasted() {
    let mut child = program()
        .args(["--bind", "127.0.0.1:0"])
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .expect("the program starts");
    let mut lines = BufReader::new(child.stdout.take().expect("its output")).lines();
    let paste = lines.find_map(|line| line.ok().filter(|line| line.starts_with("curl ")));
    let answer = paste.as_deref().map(pasted);
    child.kill().expect("it is ours");
    child.wait().expect("it ends");
    let answer = answer.expect("a request to paste");
    assert_eq!(answer["calculation"], "top-up");
}

/// Sends the request of a printed curl command.
fn pasted(command: &str) -> Value {
    let address = command.split(' ').find(|word| word.starts_with("http://")).expect("an address");
    let body = command.split_once("-d '").expect("a body").1.trim_end_matches('\'');
    let response = crate::server::client()
        .post(address)
        .header("content-type", "application/json")
        .body(body.to_owned())
        .send()
        .expect("it answers");
    response.json().expect("JSON")
}
