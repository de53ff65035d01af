//! What an answer may come as: media types, each with an example of it.

use super::drawn::Drawn;
use crate::flat::{self, names_and_values};
use serde_json::{Map, Value, json};
use sumpwright_engine::VERSION;

type Content = Map<String, Value>;

fn only(media_type: &str, content: Value) -> Content {
    Map::from_iter([(media_type.to_owned(), content)])
}

/// An example is shown in the document where it has at most so many bytes; those of longer
/// answers are most of the bytes there would be. Their members have examples of their own.
const SHOWN_MOST: usize = 5000;

/// So many lines of a table are shown.
const LINES_SHOWN: usize = 12;

/// A document of the component that `reference` refers to.
pub(crate) fn json(reference: &str, example: &Value) -> Content {
    let mut content = json!({ "schema": { "$ref": reference } });
    if example.to_string().len() <= SHOWN_MOST {
        content["example"] = example.clone();
    }
    only("application/json", content)
}

/// The example of a question, which is shown where it is asked. (An `externalValue` would
/// name its address, but a generator reads a file there.)
pub(crate) fn example_of(question: &str) -> Content {
    only("application/json", json!({ "schema": { "$ref": question } }))
}

/// What a calculation answers a document with: the record that `record` refers to,
/// and the pages that are made of it.
pub(crate) fn of_calculation(drawn: &Drawn, record: &str) -> Content {
    let mut content = json(record, &drawn.answer);
    if drawn.has_sheet {
        content.extend(described(
            "text/html",
            "Job sheet to print: the steps, each with a box to tick.",
        ));
    }
    if drawn.has_pictures {
        content.extend(described(
            "image/svg+xml",
            "Pictures of the answer, each an `svg` of class `p-picture`.",
        ));
    }
    if drawn.has_events {
        content.extend(described(
            "text/calendar",
            "What is to be done on which day, as events of iCalendar (RFC 5545).",
        ));
    }
    content.extend(as_text(&drawn.answer, drawn.answer_list));
    content
}

/// What a record is as text: all its values by their paths, or one picked value.
fn as_text(record: &Value, list: Option<&'static str>) -> Content {
    let table = String::from_utf8(names_and_values(record, false)).unwrap_or_default();
    let begins: String = table.split_inclusive('\n').take(LINES_SHOWN).collect();
    let every_value = "Every value of the record by its path.".to_owned();
    let said = list.map_or(every_value.clone(), |list| {
        format!("{every_value} A table is answered by the list {list}, one row for each entry.")
    });
    let mut content = described("text/csv", &said);
    let example = json!({ "summary": "How it begins", "value": begins });
    content["text/csv"]["examples"] = json!({ "start": example });
    content.extend(described("text/plain", "One picked value, or one line per value."));
    let picked = flat::flatten(record)
        .into_iter()
        .find(|(path, leaf)| path.starts_with("answer.") && leaf.is_number());
    if let Some((path, leaf)) = picked {
        let example = json!({
            "summary": format!("With `pick={path}`"),
            "value": flat::leaf_text(leaf),
        });
        content["text/plain"]["examples"] = json!({ "picked": example });
    }
    content
}

/// A word or a line for a program that only looks whether it comes.
pub(crate) fn text(example: &str) -> Content {
    only("text/plain", json!({ "schema": { "type": "string" }, "example": example }))
}

/// Counts and times.
pub(crate) fn metrics() -> Content {
    described("text/plain", "Metrics in the text format of Prometheus.")
}

/// A page for people.
pub(crate) fn page() -> Content {
    described("text/html", "A page in plain words.")
}

/// The OpenAPI document.
pub(crate) fn document() -> Content {
    let start = json!({
        "openapi": "3.1.0",
        "info": { "title": "Sumpwright", "version": VERSION },
    });
    let example = json!({ "summary": "How it begins", "value": start });
    let schema = json!({ "type": "object", "description": "An OpenAPI document." });
    only("application/json", json!({ "schema": schema, "examples": { "start": example } }))
}

fn described(media_type: &str, description: &str) -> Content {
    only(media_type, json!({ "schema": { "type": "string", "description": description } }))
}
