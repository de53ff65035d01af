//! Descriptions as they are published: each once, and its lines running on.

use serde_json::{Map, Value};
use std::collections::BTreeMap;
use sumpwright_engine::document::reference;

/// Lets the lines of every description run on, and takes away a description beside a
/// reference that says the same as what is referred to.
pub(super) fn describe_once(components: &mut Map<String, Value>) {
    components.values_mut().for_each(run_on);
    let said: BTreeMap<String, Value> = components
        .iter()
        .filter_map(|(name, schema)| Some((name.clone(), schema.get("description")?.clone())))
        .collect();
    components.values_mut().for_each(|schema| take_repeated_away(schema, &said));
}

/// A doc comment is broken where the code is; only an empty line begins a paragraph.
fn run_on(schema: &mut Value) {
    match schema {
        Value::Object(keywords) => {
            for (keyword, value) in keywords {
                match value {
                    Value::String(text) if keyword == "description" => *text = paragraphs(text),
                    value => run_on(value),
                }
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(run_on),
        _ => {}
    }
}

/// A text with nothing but a space between the words of a paragraph.
pub(super) fn paragraphs(text: &str) -> String {
    let paragraphs = text.split("\n\n").map(|one| one.replace('\n', " "));
    paragraphs.collect::<Vec<_>>().join("\n\n")
}

fn take_repeated_away(schema: &mut Value, said: &BTreeMap<String, Value>) {
    let referred = reference(schema).and_then(|name| said.get(name));
    if referred.is_some_and(|there| schema.get("description") == Some(there))
        && let Some(keywords) = schema.as_object_mut()
    {
        keywords.shift_remove("description");
    }
    match schema {
        Value::Object(keywords) => {
            keywords.values_mut().for_each(|value| take_repeated_away(value, said));
        }
        Value::Array(entries) => {
            entries.iter_mut().for_each(|entry| take_repeated_away(entry, said));
        }
        _ => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_description_stands_once_and_in_paragraphs() {
        let mut components: Map<String, Value> = serde_json::from_value(json!({
            "Sump": { "type": "object", "description": "A sump\nnow.\n\nOr a tank." },
            "Shop": { "properties": {
                "one": { "$ref": "#/components/schemas/Sump", "description": "A sump now.\n\nOr a tank." },
                "two": { "$ref": "#/components/schemas/Sump", "description": "Another." },
            }},
        }))
        .expect("an object");
        describe_once(&mut components);
        let expected = json!({
            "Sump": { "type": "object", "description": "A sump now.\n\nOr a tank." },
            "Shop": { "properties": {
                "one": { "$ref": "#/components/schemas/Sump" },
                "two": { "$ref": "#/components/schemas/Sump", "description": "Another." },
            }},
        });
        assert_eq!(json!(components), expected);
    }
}
