//! Separations that are refused, over HTTP.

mod contradictions;
mod missing;

use super::example;
use crate::assert_problem;
use crate::server::post;
use serde_json::Value;

#[track_caller]
fn refused(change: impl FnOnce(&mut Value), kind: &str, pointers: &[&str]) -> Value {
    let mut question = example();
    change(&mut question);
    assert_problem(post("/v1/separation", &question), 422, kind, pointers)
}

fn with_stage(question: &mut Value, stage: Value) {
    question["separator"]["stage"] = stage;
}
