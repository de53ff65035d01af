//! What a question leaves out may also be null: many generated clients write it so.

use super::components::Components;
use serde_json::{Value, json};
use std::collections::BTreeSet;

/// Lets null stand for every member that may be left out in the components that are asked, and for a
/// value of a free name.
pub(super) fn null_is_not_given(components: &mut Components, asked: &BTreeSet<String>) {
    let asked = components.iter_mut().filter(|(name, _)| asked.contains(*name));
    asked.for_each(|(_, schema)| allow_null(schema));
}

fn allow_null(schema: &mut Value) {
    let required = names(&schema["required"]);
    // The tag of a branch is what the choice is told by: the choice requires it.
    let tag = names(&schema["allOf"][0]["required"]);
    if let Some(members) = schema.get_mut("properties").and_then(Value::as_object_mut) {
        for (name, member) in members {
            if !required.contains(name) && !tag.contains(name) {
                or_null(member);
            }
        }
    }
    if let Some(others) = schema.get_mut("additionalProperties").filter(|others| others.is_object())
    {
        or_null(others);
        // Common generators of clients know null as one of several here by `anyOf` alone.
        if let Some(keywords) = others.as_object_mut()
            && let Some(branches) = keywords.shift_remove("oneOf")
        {
            keywords.insert("anyOf".to_owned(), branches);
        }
    }
    match schema {
        Value::Object(keywords) => {
            for (keyword, inner) in keywords {
                match inner {
                    // Its keys are names of members and no keywords, whatever they are called.
                    Value::Object(members) if keyword == "properties" => {
                        members.values_mut().for_each(allow_null);
                    }
                    inner => allow_null(inner),
                }
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(allow_null),
        _ => {}
    }
}

fn names(list: &Value) -> BTreeSet<String> {
    list.as_array().into_iter().flatten().filter_map(Value::as_str).map(str::to_owned).collect()
}

/// Lets null stand where `schema` does; what is said of the value stays said of both.
fn or_null(schema: &mut Value) {
    let nothing = json!({ "type": "null" });
    if let Some(branches) = schema.get_mut("oneOf").and_then(Value::as_array_mut) {
        if !branches.contains(&nothing) {
            branches.push(nothing);
        }
        return;
    }
    let Some(keywords) = schema.as_object_mut() else { return };
    if let Some(words) = keywords.get_mut("enum").and_then(Value::as_array_mut)
        && !words.contains(&Value::Null)
    {
        words.push(Value::Null);
    }
    match keywords.get_mut("type") {
        Some(Value::Array(types)) => {
            if !types.contains(&json!("null")) {
                types.push("null".into());
            }
        }
        Some(one) => *one = json!([one.take(), "null"]),
        None => {
            if let Some(reference) = keywords.shift_remove("$ref") {
                let rest = std::mem::take(keywords);
                keywords.insert("oneOf".to_owned(), json!([{ "$ref": reference }, nothing]));
                keywords.extend(rest);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_may_be_left_out_may_be_null_in_what_is_asked_alone() {
        let own = json!({
            "required": ["needed"],
            "allOf": [{ "required": ["tag"] }],
            "properties": {
                "needed": { "type": "number" },
                "tag": { "type": "string", "enum": ["a"] },
                "list": { "type": "array", "items": { "type": "number" } },
                "word": { "type": "string", "enum": ["a", "b"] },
                "other": { "$ref": "#/components/schemas/Other", "title": "Another" },
                "properties": { "type": "array", "items": { "$ref": "#/x" } },
                "nothing": { "oneOf": [{ "$ref": "#/x" }, { "type": "null" }] },
            },
            "additionalProperties": { "type": ["number", "null"] },
        });
        let mut components = Components::new();
        components.insert("Asked".to_owned(), own.clone());
        components.insert("Answered".to_owned(), own.clone());
        let reference = json!({ "$ref": "#/components/schemas/Other" });
        let map = json!({ "type": "object", "additionalProperties": reference.clone() });
        components.insert("Map".to_owned(), map);
        null_is_not_given(&mut components, &["Asked", "Map"].map(str::to_owned).into());
        let members = &components["Asked"]["properties"];
        assert_eq!(members["needed"], own["properties"]["needed"]);
        assert_eq!(members["tag"], own["properties"]["tag"]);
        assert_eq!(members["nothing"], own["properties"]["nothing"]);
        assert_eq!(members["list"]["type"], json!(["array", "null"]));
        assert_eq!(members["list"]["items"], json!({ "type": "number" }));
        assert_eq!(members["properties"]["items"], own["properties"]["properties"]["items"]);
        assert_eq!(members["word"]["enum"], json!(["a", "b", null]));
        let other = json!({
            "oneOf": [{ "$ref": "#/components/schemas/Other" }, { "type": "null" }],
            "title": "Another",
        });
        assert_eq!(members["other"], other);
        assert_eq!(components["Asked"]["additionalProperties"]["type"], json!(["number", "null"]));
        let of_a_map = json!({ "anyOf": [reference, { "type": "null" }] });
        assert_eq!(components["Map"]["additionalProperties"], of_a_map);
        assert_eq!(components["Answered"], own);
    }
}
