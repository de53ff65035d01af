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
    let output = solve("top-up", "{\"units\":\"metric\",\"sump\":{}}");
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stdout.is_empty());
    let said = String::from_utf8_lossy(&output.stderr);
    let said: Vec<&str> = said.lines().collect();
    assert_eq!(said.len(), 3, "a line a fault: {said:#?}");
    assert!(said.contains(&"sump.volume: \"volume\" is missing."), "{said:#?}");

    let output = solve("topup", "");
    assert_eq!(output.status.code(), Some(1));
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(said, "There is no calculation \"topup\". Did you mean \"top-up\"?\n");
}

#[test]
fn solve_hands_a_problem_to_programs_as_json() {
    let output = program().args(["solve", "--json", "topup", "nothing.json"]).output();
    let output = output.expect("it runs");
    assert_eq!(output.status.code(), Some(1));
    let problem: Value = serde_json::from_slice(&output.stderr).expect("JSON");
    assert_eq!(problem["type"], "/problems/not-found");
}

#[test]
fn solve_names_a_file_that_is_not_there() {
    let output = program().args(["solve", "top-up", "nothing.json"]).output().expect("it runs");
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr);
    assert_eq!(said, "sumpwright: There is no file nothing.json.\n");
}

#[test]
fn solve_answers_a_table_and_fails_where_a_row_has_no_answer() {
    let table = format!("{}/../examples/readings.csv", env!("CARGO_MANIFEST_DIR"));
    let solve = |more: &[&str]| {
        program().args(["solve", "top-up", &table]).args(more).output().expect("it runs")
    };
    let fails = |more: &[&str]| {
        let output = solve(more);
        assert_eq!(output.status.code(), Some(1), "{output:?}");
        assert_eq!(String::from_utf8_lossy(&output.stdout).lines().count(), 6);
        String::from_utf8_lossy(&output.stderr).into_owned()
    };
    // One of the invented sumps is fuller than full.
    let said = fails(&["--units", "metric"]);
    let begin = "There is no answer to 1 of 5 rows. The first of them: sump.volume [L]: ";
    assert!(said.starts_with(begin), "{said}");
    let said = fails(&[]);
    let begin = "There is no answer to 5 of 5 rows. The first of them: units: units is missing";
    assert!(said.starts_with(begin), "{said}");

    let output = solve(&["--units", "metric", "--set", "target.concentration=7"]);
    assert_eq!(output.status.code(), Some(1), "a column gives it already: {output:?}");
}

/// A pseudo-terminal, by the one of the system's programs that makes one.
#[cfg(target_os = "linux")]
#[test]
fn solve_says_that_it_waits_for_somebody_to_type() {
    let command = format!("{} solve top-up -", program().get_program().to_string_lossy());
    let mut child = std::process::Command::new("script")
        .args(["--quiet", "--return", "--echo", "never", "--command", &command, "/dev/null"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("script runs");
    let mut input = child.stdin.take().expect("its input");
    // Ctrl+D at the beginning of a line ends what is typed.
    input.write_all(b"\x04").expect("it reads");
    let output = child.wait_with_output().expect("it ends");
    drop(input);
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(said.contains("end it with Ctrl+D."), "{said}");
    assert!(said.contains("The document is empty."), "{said}");
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
