//! Whether numbers are still in the units that they were in.

use super::schemas::Break;
use serde_json::Value;
use std::collections::BTreeMap;

/// The kinds of quantity of two documents whose units differ.
pub(super) fn breaks(released: &Value, now: &Value) -> Vec<Break> {
    let (before, after) = (units(released), units(now));
    let differs = |(kind, unit): &(&&str, &[&Value; 2])| {
        // A kind that is no longer named is missed where numbers named it.
        after.get(**kind).is_some_and(|now| now != *unit)
    };
    let found = before.iter().filter(differs);
    found
        .map(|(kind, _)| Break {
            place: format!("x-quantity {kind}"),
            what: "the unit is not what it was".to_owned(),
        })
        .collect()
}

/// The units of each kind of quantity, metric and US: from the document's table, or from the
/// numbers of one that has no table.
fn units(document: &Value) -> BTreeMap<&str, [&Value; 2]> {
    let mut found = BTreeMap::new();
    match document["x-quantities"].as_object() {
        Some(table) => {
            found.extend(table.iter().map(|(kind, unit)| (kind.as_str(), pair(unit))));
        }
        None => note(document, &mut found),
    }
    found
}

fn pair(unit: &Value) -> [&Value; 2] {
    [&unit["metric"], &unit["us"]]
}

fn note<'a>(part: &'a Value, found: &mut BTreeMap<&'a str, [&'a Value; 2]>) {
    match part {
        Value::Object(members) => {
            if let (Some(Value::String(kind)), Some(unit)) =
                (members.get("x-quantity"), members.get("x-unit"))
            {
                found.insert(kind, pair(unit));
            }
            members.values().for_each(|member| note(member, found));
        }
        Value::Array(entries) => entries.iter().for_each(|entry| note(entry, found)),
        _ => {}
    }
}
