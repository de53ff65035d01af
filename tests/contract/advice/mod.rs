//! What is advised, and what is asked back: names that do not mix, bounds of the
//! trade, limits that a remedy keeps, measurements that disagree.

mod bounds;
mod measures;
mod names;
mod remedies;

use crate::solve;
use serde_json::Value;

/// The findings of an answer that have a code.
#[track_caller]
fn findings(name: &str, question: &Value, code: &str) -> Vec<Value> {
    let record = solve(name, question).unwrap_or_else(|problem| panic!("{name}: {problem:?}"));
    // A record without findings has no such member.
    let findings = record["findings"].as_array().into_iter().flatten();
    findings.filter(|finding| finding["code"] == code).cloned().collect()
}

/// Where they point.
#[track_caller]
fn found(name: &str, question: &Value, code: &str) -> Vec<String> {
    let pointer = |finding: Value| finding["pointer"].as_str().expect("a pointer").to_owned();
    findings(name, question, code).into_iter().map(pointer).collect()
}

/// The example of a calculation, changed.
fn example(name: &str, change: impl FnOnce(&mut Value)) -> Value {
    let mut question: Value = serde_json::from_str(crate::service(name).example).expect("JSON");
    change(&mut question);
    question
}
