//! What the README promises.

use crate::service;
use serde_json::Value;

const README: &str = include_str!("../README.md");

/// The fenced blocks of one language, in order.
fn blocks(language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    let parts = README.split(fence.as_str()).skip(1);
    parts.filter_map(|part| part.split_once("```").map(|(block, _)| block)).collect()
}

#[test]
fn the_request_gets_the_answer_printed_beneath_it() {
    let request = blocks("sh").into_iter().find(|block| block.contains("-d '")).expect("a request");
    let body = request.split_once("-d '").and_then(|(_, rest)| rest.split_once('\''));
    let (body, _) = body.expect("a body in quotes");
    let answered = service("top-up").answer(body.as_bytes()).expect("it is answered");
    let answered: Value = serde_json::from_slice(&answered).expect("JSON");
    let printed: Value =
        serde_json::from_str(blocks("json")[0]).expect("the printed answer is JSON");
    assert_eq!(printed, answered);
}

#[test]
fn the_commands_are_the_two_that_it_takes() {
    let commands = blocks("sh").concat();
    assert!(commands.contains("cargo run --release"));
    assert!(commands.contains("cargo test --workspace"));
}

#[test]
fn every_calculation_is_listed() {
    for service in crate::SERVICES.iter() {
        assert!(README.contains(&format!("`{}`", service.name)), "{} is not listed", service.name);
    }
}
