//! The kinds of quantity: what a program needs to know of the units of each.

use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use sumpwright_engine::quantity::{Row, TABLE, Units};

/// The format of a number that need not be whole.
pub(super) const DOUBLE: &str = "double";

/// Writes the codes of its units to each number in `schema` that names its kind, and that it has the digits of a
/// `double`: without that word some languages take it for half as many.
pub(super) fn note_units(schema: &mut Value) {
    match schema {
        Value::Object(members) => {
            let kind = members.get("x-quantity").and_then(Value::as_str);
            if let Some(row) = TABLE.iter().find(|row| Some(row.name) == kind) {
                let Units { metric, us, .. } = row.units;
                if !row.whole {
                    members.insert("format".to_owned(), DOUBLE.into());
                }
                let codes = json!({ "metric": metric.code, "us": us.code });
                members.insert("x-unit".to_owned(), codes);
            }
            members.values_mut().for_each(note_units);
        }
        Value::Array(entries) => entries.iter_mut().for_each(note_units),
        _ => {}
    }
}

/// Each kind of quantity that `schemas` name as an `x-quantity`, with its units.
pub(super) fn named_in(schemas: &Value) -> Value {
    let mut named = BTreeSet::new();
    note(schemas, &mut named);
    let rows = TABLE.iter().filter(|row| named.contains(row.name));
    let mut all: Map<String, Value> = rows.map(|row| (row.name.to_owned(), units(row))).collect();
    all.sort_keys();
    all.into()
}

fn note<'a>(part: &'a Value, named: &mut BTreeSet<&'a str>) {
    match part {
        Value::Object(members) => {
            named.extend(members.get("x-quantity").and_then(Value::as_str));
            members.values().for_each(|member| note(member, named));
        }
        Value::Array(entries) => entries.iter().for_each(|entry| note(entry, named)),
        _ => {}
    }
}

fn units(row: &Row) -> Value {
    let Units { metric, us, scale, zero } = row.units;
    json!({
        "metric": metric.code,
        "us": us.code,
        "symbol": { "metric": metric.symbol, "us": us.symbol },
        "scale": scale,
        "zero": zero,
    })
}
