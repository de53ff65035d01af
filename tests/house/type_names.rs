//! One noun a thing: no two types of a crate that others can name share a name.

use super::tidy::{root, sources};
use std::collections::BTreeMap;
use sumpwright_engine::quantity::TABLE;

const CRATES: [&str; 5] =
    ["engine/src", "openapi/src", "api/render/src", "api/server/src", "api/client/src"];

/// The type that a line declares for others: with `pub` or a part of it.
fn declared(line: &str) -> Option<&str> {
    let after = line.trim_start().strip_prefix("pub")?;
    let after = match after.strip_prefix('(') {
        Some(part) => part.split_once(')')?.1,
        None => after,
    };
    let (kind, after) = after.strip_prefix(' ')?.split_once(' ')?;
    if !["struct", "enum", "union", "trait", "type"].contains(&kind) {
        return None;
    }
    let name = after.split(|c: char| !c.is_alphanumeric() && c != '_').next();
    // A macro's `$name` is read from the table that it makes.
    name.filter(|name| !name.is_empty())
}

/// The files that stand in for another in a build without a feature: a program holds one of
/// the two, and what they declare is one thing.
fn stand_ins(texts: &[(String, String)]) -> Vec<&str> {
    let paths = texts.iter().flat_map(|(_, text)| text.split(", path = \"").skip(1));
    paths.filter_map(|path| path.split('"').next()).collect()
}

#[test]
fn no_two_types_of_a_crate_share_a_name() {
    let mut read = 0;
    let sources = sources();
    for folder in CRATES {
        let own = sources.iter().filter_map(|(path, text)| {
            let path = path.strip_prefix(root()).ok().filter(|path| path.starts_with(folder))?;
            Some((path.display().to_string(), text.clone()))
        });
        let own: Vec<_> = own.collect();
        let stand_ins = stand_ins(&own);
        let mut places: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
        for (path, text) in &own {
            if path.rsplit('/').next().is_some_and(|file| stand_ins.contains(&file)) {
                continue;
            }
            for name in text.lines().filter_map(declared) {
                places.entry(name).or_default().push(path);
            }
        }
        if folder == "engine/src" {
            for row in TABLE {
                places.entry(row.name).or_default().push("the table of quantities");
            }
        }
        read += places.len();
        for (name, places) in places {
            assert!(places.len() == 1, "{name} is two types, in {}", places.join(" and "));
        }
    }
    assert!(read > 400, "only {read} types were read");
}

#[test]
fn a_declaration_is_read_whatever_may_see_it() {
    let read = [
        "pub struct Plain;",
        "    pub(super) enum Seen {",
        "pub(in crate::fluid) type At = u8;",
        "pub trait Named<T> {",
        "struct Private;",
        "pub fn of() {}",
        "pub const ROW: Row = x;",
        "    pub struct $name(f64);",
    ]
    .map(declared);
    let names = [Some("Plain"), Some("Seen"), Some("At"), Some("Named"), None, None, None, None];
    assert_eq!(read, names);
}
