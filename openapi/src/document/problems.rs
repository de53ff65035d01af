//! The problems that an operation may answer with, each shown as the service sends it.

use super::components::refer;
use super::headers::{self, GoesOut};
use super::names::PROBLEM;
use crate::request::problem::{self, ProblemKind};
use serde_json::{Map, Value, json};

/// A problem of each type, by the last part of its address. A test asks the service for each of them.
const SHOWN: &str = include_str!("problems.json");

/// An answer and every problem there may be instead, each status once.
pub(super) fn with_problems(answer: Value) -> Value {
    let mut all = Map::from_iter([("200".to_owned(), answer)]);
    for status in statuses() {
        let response = format!("#/components/responses/Problem{status}");
        all.insert(status.to_string(), json!({ "$ref": response }));
    }
    all.into()
}

fn statuses() -> Vec<u16> {
    let mut statuses: Vec<u16> = ProblemKind::ALL.iter().map(|kind| kind.row().status).collect();
    statuses.dedup();
    statuses
}

/// A response for each status that a problem may have.
pub(super) fn responses() -> Map<String, Value> {
    let shown: Value = serde_json::from_str(SHOWN).unwrap_or_default();
    let all = statuses().into_iter().map(|status| {
        let kinds = ProblemKind::ALL.iter().filter(|kind| kind.row().status == status);
        let examples: Map<String, Value> = kinds
            .clone()
            .map(|kind| {
                let slug = kind.row().slug;
                (slug.to_owned(), shown[slug].clone())
            })
            .collect();
        let titles: Vec<&str> = kinds.map(|kind| kind.row().title).collect();
        let content = json!({ "schema": { "$ref": refer(PROBLEM) }, "examples": examples });
        let response = json!({
            "description": format!("{}.", titles.join(". ")),
            "headers": headers::of(GoesOut::Problem(status)),
            "content": { problem::MEDIA_TYPE: content },
        });
        (format!("Problem{status}"), response)
    });
    all.collect()
}
