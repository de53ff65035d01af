//! The contract: what was released is kept, and nothing of it breaks unseen.
//!
//! `openapi/released/` holds the document of the last release. The shipped one
//! may say more than it, but whoever was served by the released one must still
//! be. The comparison is our own because it has to know of units.

mod additions;
mod breakages;
mod edits;
mod limits;
mod operations;
mod schemas;

use crate::spec;
use serde_json::Value;
use std::sync::LazyLock;

static SHIPPED: LazyLock<Value> = LazyLock::new(spec);

/// The document of the last release.
fn released() -> Value {
    let text = include_str!("../openapi/released/openapi.json");
    serde_json::from_str(text).expect("the released document is JSON")
}

/// The breaks between the shipped document and the same with a change made to it.
fn breaks_after(change: impl FnOnce(&mut Value)) -> Vec<schemas::Break> {
    let mut changed = SHIPPED.clone();
    change(&mut changed);
    assert!(*SHIPPED != changed, "the change changed nothing");
    operations::breaks(&SHIPPED, &changed)
}

#[test]
fn the_shipped_document_keeps_what_the_released_one_promises() {
    let breaks = operations::breaks(&released(), &SHIPPED);
    let said: Vec<String> = breaks.iter().map(ToString::to_string).collect();
    assert!(
        said.is_empty(),
        "these would break callers of the released contract:\n{}\n\
         Keep the old way beside the new one, or see \"Releasing the contract\" in DEVELOPERS.md.",
        said.join("\n")
    );
}

#[test]
fn a_document_keeps_what_it_says_itself() {
    assert_eq!(operations::breaks(&SHIPPED, &SHIPPED), []);
}

/// The version that the changelog names last is the one that was released.
#[test]
fn the_changelog_knows_the_released_version() {
    let changelog = include_str!("../openapi/CHANGELOG.md");
    let mut headings = changelog.lines().filter_map(|line| line.strip_prefix("## "));
    assert_eq!(headings.next(), Some("Unreleased"));
    let last = headings.next().expect("a release");
    let version = released()["info"]["version"].as_str().expect("a version").to_owned();
    assert_eq!(last.split(' ').next(), Some(version.as_str()), "{last}");
}
