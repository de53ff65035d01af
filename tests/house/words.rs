//! Texts for people contain no names that only programs use.

use super::tidy::sources;
use crate::spec;
use serde_json::Value;
use std::collections::BTreeSet;

/// Names of components that are not English words: `TopUpQuestion`, not `Sump`.
fn names() -> BTreeSet<String> {
    let spec = spec();
    let schemas = spec["components"]["schemas"].as_object().expect("components");
    let humps = |name: &str| name.chars().filter(char::is_ascii_uppercase).count();
    let names: BTreeSet<String> = schemas.keys().filter(|name| humps(name) > 1).cloned().collect();
    assert!(names.len() > 100, "{names:?}");
    names
}

/// The first of the names that a text contains as a word.
fn named<'a>(text: &'a str, names: &BTreeSet<String>) -> Option<&'a str> {
    let words = text.split(|c: char| !c.is_alphanumeric() && c != '_');
    words.into_iter().find(|word| names.contains(*word))
}

fn every_text(value: &Value, place: &str, look: &mut impl FnMut(&str, &str)) {
    match value {
        Value::Object(members) => {
            for (name, member) in members {
                let place = format!("{place}/{name}");
                match member {
                    Value::String(text) if ["description", "summary"].contains(&&**name) => {
                        look(&place, text);
                    }
                    member => every_text(member, &place, look),
                }
            }
        }
        Value::Array(entries) => entries.iter().for_each(|entry| every_text(entry, place, look)),
        _ => {}
    }
}

#[test]
fn no_description_names_a_component() {
    let (spec, names) = (spec(), names());
    let mut read = 0;
    every_text(&spec, "", &mut |place, text| {
        read += 1;
        assert_eq!(named(text, &names), None, "{place}: {text}");
    });
    assert!(read > 1000, "only {read} descriptions were found");
}

/// The texts between quotation marks in a source file, including escaped quotation marks.
fn literals(source: &str) -> Vec<&str> {
    let (mut found, mut rest) = (Vec::new(), source);
    while let Some(at) = rest.find(['"', '\'', '/']) {
        let mark = &rest[at..];
        let skipped = if mark.starts_with("//") {
            mark.find('\n').unwrap_or(mark.len())
        } else if let Some(escaped) = mark.strip_prefix("'\\") {
            escaped.find('\'').map_or(mark.len(), |end| end + 3)
        } else if let Some(after) = mark.strip_prefix('\'') {
            // A character, or else a lifetime.
            let character = after.chars().next().map_or(1, |c| 1 + c.len_utf8());
            if mark[character..].starts_with('\'') { character + 1 } else { 1 }
        } else if let Some(quoted) = mark.strip_prefix('"') {
            let mut escaped = false;
            let end = quoted.find(|c: char| {
                let ends = c == '"' && !escaped;
                escaped = c == '\\' && !escaped;
                ends
            });
            let end = end.map_or(mark.len(), |end| end + 1);
            found.push(&mark[1..end]);
            end + 1
        } else {
            1
        };
        rest = mark.get(skipped..).unwrap_or_default();
    }
    found
}

#[test]
fn literals_are_found_between_other_marks() {
    let source =
        "let a: &'a str = f(\"one \\\" two\", '\"', '\\'', b\"three\"); // \"four\"\n\"five\"";
    assert_eq!(literals(source), ["one \\\" two", "three", "five"]);
}

/// A name replaced in the code must also be replaced in the sentences.
#[test]
fn no_sentence_names_a_component() {
    let names = names();
    let mut read = 0;
    for (path, text) in sources() {
        if !path.components().any(|part| part.as_os_str() == "src") {
            continue;
        }
        for literal in literals(&text).into_iter().filter(|literal| literal.contains(' ')) {
            read += 1;
            assert_eq!(named(literal, &names), None, "{}: {literal}", path.display());
        }
    }
    assert!(read > 1000, "only {read} sentences were found");
}

/// Words and phrases at which a reader stops, each with an everyday one in its place.
const ODD: [(&str, &str); 6] = [
    ("mend", "correct"),
    ("nought", "0"),
    ("suck out", "drain"),
    ("to be had", "available"),
    ("a line each", "one line each"),
    ("when left out", "Default: …"),
];

/// The everyday word for the first odd one that a text contains.
fn odd(text: &str) -> Option<(&'static str, &'static str)> {
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric()).collect();
    let spaced = format!(" {} ", words.join(" ").to_lowercase());
    ODD.into_iter().find(|(odd, _)| spaced.contains(&format!(" {odd} ")))
}

#[test]
fn sentences_and_descriptions_use_everyday_words() {
    assert_eq!(odd("Ask again, or Mend it."), Some(("mend", "correct")));
    assert_eq!(odd("Recommended."), None);
    every_text(&spec(), "", &mut |place, text| assert_eq!(odd(text), None, "{place}: {text}"));
    for (path, text) in sources() {
        if path.components().any(|part| part.as_os_str() == "src") {
            for literal in literals(&text) {
                assert_eq!(odd(literal), None, "{}: {literal}", path.display());
            }
        }
    }
}
