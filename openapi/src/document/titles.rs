//! A title for every member: what a shop calls it. Where the field says none it is the
//! member's name in words.

use serde_json::{Map, Value};
use sumpwright_engine::document::{in_words, without_its_unit};

/// Gives every member in `schema` a title that none of its neighbours has.
pub(super) fn entitle(schema: &mut Value) {
    match schema {
        Value::Object(keywords) => {
            for (keyword, inner) in keywords {
                match inner.as_object_mut().filter(|_| keyword == "properties") {
                    Some(members) => entitle_members(members),
                    None => entitle(inner),
                }
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(entitle),
        _ => {}
    }
}

fn entitle_members(members: &mut Map<String, Value>) {
    let short = |name: &str, member: &Value| match member["title"].as_str() {
        Some(title) => title.to_owned(),
        None => without_its_unit(name),
    };
    let all: Vec<String> = members.iter().map(|(name, member)| short(name, member)).collect();
    for ((name, member), title) in members.iter_mut().zip(&all) {
        entitle(member);
        let Some(keywords) = member.as_object_mut() else { continue };
        if keywords.contains_key("title") {
            continue;
        }
        let is_taken = all.iter().filter(|other| *other == title).count() > 1;
        let title = if is_taken { in_words(name) } else { title.clone() };
        keywords.insert("title".to_owned(), title.into());
    }
}
