//! The contract: the last release stays valid, and no break goes unnoticed.
//!
//! `openapi/released/` holds the document of the last release. The shipped document
//! may add to it, but every caller of the released one must still be served.
//! The comparison is our own because it has to understand units.

mod additions;
mod breakages;
mod edits;
mod limits;
mod operations;
mod schemas;
mod units;

use crate::spec;
use serde_json::Value;
use std::sync::LazyLock;

static SHIPPED: LazyLock<Value> = LazyLock::new(spec);

/// The document of the last release.
fn released() -> Value {
    let text = include_str!("../../../openapi/released/openapi.json");
    serde_json::from_str(text).expect("the released document is JSON")
}

/// The breaks between the shipped document and a changed copy.
fn breaks_after(change: impl FnOnce(&mut Value)) -> Vec<schemas::Break> {
    let mut changed = SHIPPED.clone();
    change(&mut changed);
    assert!(*SHIPPED != changed, "the change changed nothing");
    operations::breaks(&SHIPPED, &changed)
}

#[test]
fn the_shipped_document_keeps_what_the_released_one_promises() {
    let breaks = operations::breaks(&released(), &SHIPPED);
    let mut said: Vec<String> = breaks.iter().map(ToString::to_string).collect();
    if may_break() {
        // Then the changelog must mention it.
        said.retain(|said| !breaks_are_announced(said));
    }
    assert!(
        said.is_empty(),
        "these would break callers of the released contract:\n{}\n\
         Keep the old way beside the new one, or see \"Releasing the contract\" in DEVELOPERS.md.",
        said.join("\n")
    );
}

/// The part of a version that a break raises: the first that is not 0.
fn breaking_part(document: &Value) -> Vec<u64> {
    let version = document["info"]["version"].as_str().expect("a version");
    let parts: Vec<u64> = version.split('.').map(|part| part.parse().expect("a number")).collect();
    let first = parts.iter().position(|part| *part > 0).unwrap_or(parts.len() - 1);
    parts[..=first].to_vec()
}

fn may_break() -> bool {
    breaking_part(&SHIPPED) > breaking_part(&released())
}

/// Whether "Unreleased" names the calculation whose operation breaks.
fn breaks_are_announced(said: &str) -> bool {
    let changelog = include_str!("../../../openapi/CHANGELOG.md");
    let unreleased = changelog.split("\n## ").nth(1).expect("what is unreleased");
    let path = said.split_whitespace().find_map(|word| word.strip_prefix("/v1/"));
    let name =
        path.and_then(|path| path.split(|c: char| c != '-' && !c.is_ascii_lowercase()).next());
    name.is_some_and(|name| unreleased.contains(&format!("`{name}`")))
}

#[test]
fn a_document_keeps_what_it_says_itself() {
    assert_eq!(operations::breaks(&SHIPPED, &SHIPPED), []);
}

/// The latest version in the changelog is the released one.
#[test]
fn the_changelog_knows_the_released_version() {
    let changelog = include_str!("../../../openapi/CHANGELOG.md");
    let mut headings = changelog.lines().filter_map(|line| line.strip_prefix("## "));
    assert_eq!(headings.next(), Some("Unreleased"));
    let last = headings.next().expect("a release");
    let version = released()["info"]["version"].as_str().expect("a version").to_owned();
    assert_eq!(last.split(' ').next(), Some(version.as_str()), "{last}");
}
