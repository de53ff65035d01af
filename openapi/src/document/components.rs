//! From the schemas that the derives give to the ones that are published.
//!
//! The derives know nothing of units, and write choices in a way that clients
//! are generated badly from. Both are put right here, once for all:
//!
//! - a choice becomes named components with a discriminator;
//! - a quantity is written out where it is used, its unit added to the
//!   description of the member; what a program needs of a unit stands once for
//!   each kind of quantity (`quantities.rs`);
//! - members of answers are absent rather than null;
//! - the numbers and texts of the worked examples become examples of members.

use super::descriptions::describe_once;
use super::headings::entitle_by_heading;
use serde_json::{Map, Value, json};
use std::collections::BTreeSet;
use sumpwright_engine::document::{reference, tagged, type_of};
use sumpwright_engine::quantity::TABLE;

/// Named schemas.
pub type Components = Map<String, Value>;

const PREFIX: &str = "#/components/schemas/";

/// The type of the caller's names, which is written out as quantities are.
const NAME: &str = "Name";

/// Makes `components` fit to publish.
pub fn publish(components: &mut Components) {
    name_the_branches(components);
    let quantities: Components = components
        .iter()
        .filter(|(name, schema)| schema.get("x-quantity").is_some() || *name == NAME)
        .map(|(name, schema)| (name.clone(), schema.clone()))
        .collect();
    components.retain(|name, _| !quantities.contains_key(name));
    for schema in components.values_mut() {
        write_out_quantities(schema, &quantities);
        entitle_by_heading(schema);
    }
    describe_once(components);
}

/// `oneOf` of `allOf` of a reference and a tag becomes `oneOf` of references
/// with a discriminator, and the tag becomes a member of what is referred to.
///
/// The branch requires its tag beside its own members and has it by default. A client
/// whose choices write and read the tag themselves so has room to leave it out of the
/// branch, where it would stand twice, and the others need not be told what it is.
fn name_the_branches(components: &mut Components) {
    let mut tags = Vec::new();
    for schema in components.values_mut() {
        let Some(branches) = schema.get("oneOf").and_then(Value::as_array) else { continue };
        let named: Option<Vec<_>> = branches.iter().map(named).collect();
        let Some(named) = named.filter(|named| !named.is_empty()) else { continue };
        let mapping: Map<String, Value> =
            named.iter().map(|branch| (branch.word.clone(), json!(refer(&branch.name)))).collect();
        schema["oneOf"] =
            named.iter().map(|branch| json!({ "$ref": refer(&branch.name) })).collect();
        schema["discriminator"] = json!({ "propertyName": named[0].tag, "mapping": mapping });
        tags.extend(named);
    }
    for branch in tags {
        let Some(schema) = components.get_mut(&branch.name) else { continue };
        let description = format!("Type tag; always `{}`.", branch.word);
        let tag = json!({
            "type": "string",
            "enum": [branch.word],
            "default": branch.word,
            "description": description,
        });
        let mut members = Map::from_iter([(branch.tag.clone(), tag)]);
        if let Some(own) = schema["properties"].as_object_mut() {
            members.append(own);
        }
        schema["properties"] = members.into();
        schema["allOf"] = json!([{ "required": [branch.tag] }]);
    }
}

struct Branch {
    name: String,
    tag: String,
    word: String,
}

fn named(branch: &Value) -> Option<Branch> {
    let (referred, tag, word) = tagged(branch)?;
    let name = reference(referred)?.to_owned();
    Some(Branch { name, tag: tag.to_owned(), word: word.to_owned() })
}

/// A reference to the component called `name`.
#[must_use]
pub fn refer(name: &str) -> String {
    format!("{PREFIX}{name}")
}

fn write_out_quantities(schema: &mut Value, quantities: &Components) {
    if let Some(quantity) = reference(schema).and_then(|name| quantities.get(name)) {
        *schema = written_out(schema, quantity, false, &schema["title"]);
        return;
    }
    if let Some([first, second]) = schema.get("oneOf").and_then(Value::as_array).map(Vec::as_slice)
        && type_of_null(second)
    {
        if let Some(quantity) = reference(first).and_then(|name| quantities.get(name)) {
            *schema = written_out(first, quantity, true, &schema["title"]);
            return;
        }
        describe_the_member_alone(schema);
    }
    match schema {
        Value::Object(members) => {
            members.values_mut().for_each(|member| write_out_quantities(member, quantities));
        }
        Value::Array(entries) => {
            entries.iter_mut().for_each(|entry| write_out_quantities(entry, quantities));
        }
        _ => {}
    }
}

/// The description belongs to the member that may be null, not to the branch.
fn describe_the_member_alone(schema: &mut Value) {
    let description = schema["oneOf"][0]
        .as_object_mut()
        .filter(|branch| branch.contains_key("$ref"))
        .and_then(|branch| branch.shift_remove("description"));
    if let (Some(description), None) = (description, schema.get("description")) {
        schema["description"] = description;
    }
}

fn type_of_null(schema: &Value) -> bool {
    schema["type"] == "null"
}

fn written_out(member: &Value, quantity: &Value, nullable: bool, title: &Value) -> Value {
    let mut schema = quantity.clone();
    if title.is_string() {
        schema["title"] = title.clone();
    }
    let own = member["description"].as_str().unwrap_or_default();
    let unit = unit_in_words(quantity);
    let description = if own.ends_with(&unit) { own.to_owned() } else { format!("{own} {unit}") };
    schema["description"] = description.trim().into();
    if nullable {
        schema["type"] = json!([quantity["type"], "null"]);
    }
    schema
}

/// What a description ends with where a member is a number: its unit, in both systems.
#[must_use]
pub fn unit_in_words(quantity: &Value) -> String {
    let row = TABLE.iter().find(|row| quantity["x-quantity"] == row.name);
    let Some(units) = row.map(|row| row.units) else { return String::new() };
    match (units.metric.symbol, units.us.symbol) {
        ("", _) => "Dimensionless.".to_owned(),
        (metric, us) if metric == us => format!("Unit: {metric}."),
        (metric, us) => format!("Unit: {metric} (metric), {us} (us)."),
    }
}

/// The names of the components that the questions consist of.
pub(super) fn asked(components: &Components, questions: &[String]) -> BTreeSet<String> {
    let mut asked = BTreeSet::new();
    let mut next: Vec<String> = questions.to_vec();
    while let Some(name) = next.pop() {
        if let Some(schema) = components.get(&name)
            && asked.insert(name)
        {
            references(schema, &mut next);
        }
    }
    asked
}

/// Takes null away from what only answers use: an answer leaves a member out
/// rather than say that it is nothing.
pub fn never_null_in_answers(components: &mut Components, asked: &BTreeSet<String>) {
    for (name, schema) in components.iter_mut() {
        if !asked.contains(name) {
            take_null_away(schema);
        }
    }
}

/// Notes the components that a schema refers to.
pub(super) fn references(schema: &Value, found: &mut Vec<String>) {
    found.extend(reference(schema).map(str::to_owned));
    match schema {
        Value::Object(members) => members.values().for_each(|member| references(member, found)),
        Value::Array(entries) => entries.iter().for_each(|entry| references(entry, found)),
        _ => {}
    }
}

fn take_null_away(schema: &mut Value) {
    if let Some(branches) = schema.get_mut("oneOf").and_then(Value::as_array_mut) {
        branches.retain(|branch| !type_of_null(branch));
        if branches.len() == 1
            && let Value::Object(mut only) = branches.remove(0)
            && let Some(members) = schema.as_object_mut()
        {
            members.shift_remove("oneOf");
            only.append(members);
            *members = only;
        }
    }
    if schema.get("type").is_some_and(Value::is_array) {
        schema["type"] = type_of(schema).into();
    }
    match schema {
        Value::Object(members) => members.values_mut().for_each(take_null_away),
        Value::Array(entries) => entries.iter_mut().for_each(take_null_away),
        _ => {}
    }
}

/// Makes the numbers and texts of a worked document examples of the members
/// they are given for.
pub fn exemplify(components: &mut Components, name: &str, document: &Value) {
    let Some(schema) = components.get(name).cloned() else { return };
    let mut schema = schema;
    exemplify_schema(components, &mut schema, document);
    components.insert(name.to_owned(), schema);
}

fn exemplify_schema(components: &mut Components, schema: &mut Value, document: &Value) {
    if let Some(name) = reference(schema).map(str::to_owned) {
        return exemplify(components, &name, document);
    }
    match document {
        Value::Object(members) => {
            for branch in branches(components, schema, document) {
                exemplify(components, &branch, document);
            }
            for (member, value) in members {
                if let Some(schema) =
                    schema.get_mut("properties").and_then(|members| members.get_mut(member))
                {
                    exemplify_schema(components, schema, value);
                }
            }
        }
        Value::Array(entries) => {
            for entry in entries {
                if let Some(items) = schema.get_mut("items") {
                    exemplify_schema(components, items, entry);
                }
            }
        }
        leaf => {
            let described = schema.get("enum").is_none() && schema.get("oneOf").is_none();
            let has_one = schema.get("example").is_some() || schema.get("examples").is_some();
            if described && !has_one && schema.get("type").is_some() {
                schema["examples"] = json!([leaf]);
            }
        }
    }
}

/// The components among the branches of `schema` that `document` belongs to.
fn branches(components: &Components, schema: &Value, document: &Value) -> Vec<String> {
    let tag = schema["discriminator"]["propertyName"].as_str();
    let branches = schema.get("oneOf").and_then(Value::as_array).into_iter().flatten();
    let names = branches.filter_map(reference).map(str::to_owned);
    let belongs = |name: &String| {
        let Some(found) = components.get(name) else { return false };
        match tag {
            Some(tag) => found["properties"][tag]["enum"][0] == document[tag],
            None => type_of(found) == "object" || found.get("oneOf").is_some(),
        }
    };
    names.filter(belongs).collect()
}
