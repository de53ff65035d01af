//! What a table that is one list is answered with: the list of its answer, a row an entry, or every
//! value by its path.

use super::columns::ANSWER_PREFIX;
use crate::flat::{names_and_values, pick, shown};
use crate::request::envelope::{UNITS, units_named};
use crate::row::guard::harmless;
use crate::service::Service;
use serde_json::Value;
use sumpwright_engine::document::Shape;
use sumpwright_engine::quantity::UnitSystem;

/// A record as the answer to a table that is one list.
#[must_use]
pub fn answered(service: &Service, record: &Value, decimal_comma: bool) -> Vec<u8> {
    let list = service.answer_list().map(|list| format!("{ANSWER_PREFIX}{list}"));
    let entries = list.as_ref().and_then(|list| pick(record, list)?.as_array());
    let (Some(list), Some(entries)) = (&list, entries) else {
        return names_and_values(record, decimal_comma);
    };
    let units = record[UNITS].as_str().and_then(units_named);
    let columns = columns(&service.record, &format!("{list}.0"), units);
    let mut writer = csv::Writer::from_writer(Vec::new());
    // A writer into memory does not fail.
    let _ = writer.write_record(columns.iter().map(|(_, heading)| heading));
    for entry in entries {
        let cells = columns.iter().map(|(path, _)| {
            let cell = pick(entry, path).map(|leaf| shown(leaf, decimal_comma)).unwrap_or_default();
            harmless(&cell).into_owned()
        });
        let _ = writer.write_record(cells);
    }
    writer.into_inner().unwrap_or_default()
}

/// The members of an entry at `at`, each with its heading: its unit in brackets where it has one.
fn columns(record: &Shape, at: &str, units: Option<UnitSystem>) -> Vec<(String, String)> {
    let entries = record.all_at_path(at);
    let members = entries.into_iter().flat_map(|entry| match entry {
        Shape::Record(members, _) => members.iter().map(|member| member.name.clone()).collect(),
        _ => Vec::new(),
    });
    let headed = members.map(|name| {
        let quantity = record.quantities_at(&format!("{at}.{name}")).first().copied();
        let code = quantity.zip(units).map(|(row, units)| row.units.in_system(units).code);
        let heading = match code {
            Some(code) if code != "1" && code.starts_with('[') => format!("{name} {code}"),
            Some(code) if code != "1" => format!("{name} [{code}]"),
            _ => name.clone(),
        };
        (name, heading)
    });
    headed.collect()
}
