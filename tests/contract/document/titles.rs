//! Titles: the shop's name for each member.

use crate::spec;
use serde_json::{Map, Value};
use std::collections::BTreeSet;

/// Every member has a readable title, and no object has two members with the same title.
#[test]
fn every_member_has_a_title_that_its_neighbours_have_not() {
    let mut members = 0;
    look(&spec()["components"]["schemas"], "", &mut members);
    assert!(members > 1_000, "only {members} members were found");
}

fn look(value: &Value, place: &str, found: &mut usize) {
    match value {
        Value::Object(keywords) => {
            for (keyword, inner) in keywords {
                let place = format!("{place}/{keyword}");
                match (keyword.as_str(), inner) {
                    ("properties", Value::Object(members)) => members_of(members, &place, found),
                    ("example" | "examples" | "default", _) => {}
                    (_, inner) => look(inner, &place, found),
                }
            }
        }
        Value::Array(entries) => entries.iter().for_each(|entry| look(entry, place, found)),
        _ => {}
    }
}

fn members_of(members: &Map<String, Value>, place: &str, found: &mut usize) {
    let mut titles = BTreeSet::new();
    for (name, member) in members {
        let title = member["title"].as_str();
        let title = title.unwrap_or_else(|| panic!("{place}: {name} has no title"));
        let reads = title.starts_with(char::is_uppercase) && !title.ends_with(['.', ' ']);
        assert!(reads && !title.contains('_'), "{place}: {title:?}");
        let fresh = titles.insert(title.to_lowercase());
        assert!(fresh, "{place} has two members called {title:?}");
        *found += 1;
        look(member, &format!("{place}/{name}"), found);
    }
}
