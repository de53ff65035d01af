//! The schemas from which the page draws its forms and answers: the published ones without what it does not show.

use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use sumpwright_engine::document::{in_words, type_of};
use sumpwright_openapi::document::components::unit_in_words;

/// The calculations that the first task asks. What their forms and answers are drawn from is sent first.
const FIRST_ASKED: [&str; 2] = ["/v1/concentration", "/v1/top-up"];

/// What a problem says can be reached.
const REACHABLE: &str = "#/components/schemas/ReachableRanges";

/// The parts of the OpenAPI document that the page needs.
pub(super) struct Forms {
    /// The units of each kind of quantity, for each calculation its summary, its question and the
    /// formats of its answer, and the schemas of those that are asked first.
    pub(super) first: Value,
    /// All other schemas.
    pub(super) others: Value,
}

/// What the page draws its forms and answers from.
pub(super) fn forms(openapi: &str) -> Forms {
    let document: Value = serde_json::from_str(openapi).unwrap_or_default();
    let paths = document["paths"].as_object().into_iter().flatten();
    let asked: Map<String, Value> = paths
        .filter_map(|(path, item)| {
            let post = item.get("post")?;
            let answers = post["responses"]["200"]["$ref"].as_str()?.strip_prefix('#')?;
            let answered = without_examples(&document.pointer(answers)?["content"]);
            let post = json!({
                "summary": post["summary"],
                "requestBody": { "content": without_examples(&post["requestBody"]["content"]) },
                "responses": { "200": { "content": answered } },
            });
            Some((path.clone(), json!({ "post": post })))
        })
        .collect();
    let mut schemas = document["components"]["schemas"].clone();
    without_unit_in_words(&mut schemas);
    let mut shown = BTreeSet::new();
    let published = document["components"]["schemas"].as_object();
    for schema in published.into_iter().flat_map(Map::values) {
        described_by_themselves(schema, false, &mut shown);
    }
    for (name, schema) in schemas.as_object_mut().into_iter().flatten() {
        if let Some(members) = schema.get_mut("properties").and_then(Value::as_object_mut) {
            members.retain(|member, _| !ON_REQUEST.contains(&member.as_str()));
        }
        without_what_no_form_shows(schema);
        if !shown.contains(name.as_str())
            && let Some(members) = schema.as_object_mut()
        {
            members.retain(|member, _| member != "description");
        }
    }
    let mut wanted = BTreeSet::new();
    for path in FIRST_ASKED {
        referred_to(&asked[path], &schemas, &mut wanted);
    }
    referred_to(&json!({ "$ref": REACHABLE }), &schemas, &mut wanted);
    let schemas = schemas.as_object().cloned().unwrap_or_default();
    let (first, others): (Map<_, _>, Map<_, _>) =
        schemas.into_iter().partition(|(name, _)| wanted.contains(name));
    Forms {
        first: json!({
            "paths": asked,
            "components": { "schemas": first },
            "x-quantities": document["x-quantities"],
        }),
        others: json!({ "components": { "schemas": others } }),
    }
}

/// Finds the names of all schemas that `value` refers to, and those that these refer to.
fn referred_to(value: &Value, schemas: &Value, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(members) => {
            let name = members.get("$ref").and_then(Value::as_str);
            if let Some(name) = name.and_then(|at| at.rsplit('/').next())
                && found.insert(name.to_owned())
            {
                referred_to(&schemas[name], schemas, found);
            }
            members.values().for_each(|inner| referred_to(inner, schemas, found));
        }
        Value::Array(entries) => {
            entries.iter().for_each(|inner| referred_to(inner, schemas, found));
        }
        _ => {}
    }
}

/// Finds the schemas whose own words are shown: something refers to them without a description beside
/// it, or they are one of several that a value can be.
fn described_by_themselves<'a>(
    schema: &'a Value,
    is_described: bool,
    found: &mut BTreeSet<&'a str>,
) {
    match schema {
        Value::Object(members) => {
            let is_described = is_described || members.contains_key("description");
            if !is_described && let Some(name) = members.get("$ref").and_then(Value::as_str) {
                found.extend(name.rsplit('/').next());
            }
            for (name, inner) in members {
                match (name.as_str(), inner) {
                    ("properties", Value::Object(properties)) => {
                        for property in properties.values() {
                            described_by_themselves(property, false, found);
                        }
                    }
                    ("oneOf" | "anyOf", Value::Array(branches)) => {
                        // That a value can be left out makes no branch of it.
                        let is_left_out = branches.iter().any(|one| one["type"] == "null");
                        for branch in branches {
                            described_by_themselves(branch, is_described && is_left_out, found);
                        }
                    }
                    ("additionalProperties", inner) => {
                        described_by_themselves(inner, false, found);
                    }
                    (_, inner) => described_by_themselves(inner, is_described, found),
                }
            }
        }
        Value::Array(entries) => {
            for entry in entries {
                described_by_themselves(entry, is_described, found);
            }
        }
        _ => {}
    }
}

/// Members of a record that the page does not ask for.
const ON_REQUEST: [&str; 2] = ["unit_codes", "digests"];

/// What a schema says that no form and no answer shows.
const NOT_SHOWN: [&str; 3] = ["example", "examples", "x-unit"];

/// Takes examples and codes of units out of a schema and those in it.
fn without_what_no_form_shows(schema: &mut Value) {
    match schema {
        Value::Object(members) => {
            members.retain(|name, value| {
                !(NOT_SHOWN.contains(&name.as_str()) || name == "format" && value == "double")
            });
            // What may be left out is left out of what the page sends, and never null.
            if let Some(kind) = members.get_mut("type").filter(|kind| kind.is_array()) {
                *kind = type_of(&json!({ "type": kind.clone() })).into();
            }
            for (name, inner) in members {
                // The names of properties are the caller's words.
                match (name.as_str(), inner) {
                    ("properties", Value::Object(properties)) => {
                        for (property, inner) in properties {
                            without_title_from(property, inner);
                            without_what_no_form_shows(inner);
                        }
                    }
                    (_, inner) => without_what_no_form_shows(inner),
                }
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(without_what_no_form_shows),
        _ => {}
    }
}

/// Takes out of a member the title that is its name in words: the page says so by itself.
fn without_title_from(name: &str, member: &mut Value) {
    if member["title"].as_str() == Some(in_words(name).as_str())
        && let Some(keywords) = member.as_object_mut()
    {
        keywords.retain(|keyword, _| keyword != "title");
    }
}

/// Takes the unit out of every description: the page shows it beside the number.
fn without_unit_in_words(schema: &mut Value) {
    match schema {
        Value::Object(members) => {
            members.values_mut().for_each(without_unit_in_words);
            let unit = unit_in_words(schema);
            if let Some(Value::String(description)) = schema.get_mut("description")
                && let Some(own) = description.strip_suffix(&unit)
            {
                *description = own.trim_end().to_owned();
            }
        }
        Value::Array(entries) => entries.iter_mut().for_each(without_unit_in_words),
        _ => {}
    }
}

/// The types of a body and their schemas.
fn without_examples(content: &Value) -> Value {
    let types = content.as_object().into_iter().flatten();
    types.map(|(name, kind)| (name.clone(), json!({ "schema": kind["schema"] }))).collect()
}
