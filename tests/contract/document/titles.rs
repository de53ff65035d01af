//! Titles: what a shop calls each member.

use crate::spec;
use serde_json::Value;
use std::collections::BTreeSet;

/// Every member has a title that reads as one, and no object has two members of one title.
#[test]
fn every_member_has_a_title_that_its_neighbours_have_not() {
    let mut members = 0;
    look(&spec()["components"]["schemas"], "", &mut members);
    assert!(members > 1_000, "only {members} members were found");
}

fn look(value: &Value, place: &str, found: &mut usize) {
    match value {
        Value::Object(keywords) => {
            let members = keywords.get("properties").and_then(Value::as_object);
            let mut titles = BTreeSet::new();
            for (name, member) in members.into_iter().flatten() {
                let title = member["title"].as_str();
                let title = title.unwrap_or_else(|| panic!("{place}: {name} has no title"));
                let reads = title.starts_with(char::is_uppercase) && !title.ends_with(['.', ' ']);
                assert!(reads && !title.contains('_'), "{place}: {title:?}");
                let fresh = titles.insert(title.to_lowercase());
                assert!(fresh, "{place} has two members called {title:?}");
                *found += 1;
            }
            let data = ["example", "examples", "default"];
            for (name, inner) in keywords.iter().filter(|(name, _)| !data.contains(&name.as_str()))
            {
                look(inner, &format!("{place}/{name}"), found);
            }
        }
        Value::Array(entries) => entries.iter().for_each(|entry| look(entry, place, found)),
        _ => {}
    }
}
