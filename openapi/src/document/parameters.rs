//! The members of a question as parameters of a query.

use super::components::Components;
use serde_json::{Map, Value, json};
use std::collections::HashMap;
use sumpwright_engine::document::{reference, type_of};

/// A parameter for each leaf of the question `schema`. Of a list the first
/// entry stands for the others; members of free names are told in words.
#[must_use]
pub fn of_question(schema: &Value, components: &Components) -> Vec<Value> {
    let mut leaves = Leaves { components, found: Vec::new() };
    leaves.walk(schema, "", true, None);
    leaves.found
}

/// Parameters that stand in more than one operation become components, and each operation
/// refers to them. A component is called like its parameter; another of the same name is
/// called after the operation that first has it, too.
pub(super) fn shared(paths: &mut Map<String, Value>) -> Map<String, Value> {
    let mut times: HashMap<String, usize> = HashMap::new();
    for_each_parameter(paths, |_, own| *times.entry(own.to_string()).or_default() += 1);
    let mut shared = Map::new();
    let mut names: HashMap<String, String> = HashMap::new();
    for_each_parameter(paths, |operation, own| {
        let written = own.to_string();
        let Some(name) = own["name"].as_str().filter(|_| times[&written] > 1) else { return };
        let component = names.entry(written).or_insert_with(|| {
            let is_taken = shared.contains_key(name);
            let component =
                if is_taken { format!("{name}-of-{operation}") } else { name.to_owned() };
            shared.insert(component.clone(), own.clone());
            component
        });
        *own = json!({ "$ref": format!("#/components/parameters/{component}") });
    });
    shared
}

/// Shows every parameter with the name of its operation.
fn for_each_parameter(paths: &mut Map<String, Value>, mut see: impl FnMut(&str, &mut Value)) {
    let operations = paths.values_mut().filter_map(Value::as_object_mut).flat_map(Map::values_mut);
    for operation in operations {
        let name = operation["operationId"].as_str().unwrap_or_default().to_owned();
        let own = operation.get_mut("parameters").and_then(Value::as_array_mut);
        own.into_iter().flatten().for_each(|parameter| see(&name, parameter));
    }
}

struct Leaves<'a> {
    components: &'a Components,
    found: Vec<Value>,
}

impl Leaves<'_> {
    fn walk(&mut self, schema: &Value, path: &str, required: bool, description: Option<&Value>) {
        let description = schema.get("description").or(description);
        if let Some(name) = reference(schema) {
            let found = &self.components[name];
            return self.walk(found, path, required, description);
        }
        if let Some(branches) = schema.get("oneOf").and_then(Value::as_array) {
            let tag = schema["discriminator"]["propertyName"].as_str();
            if let Some(tag) = tag {
                self.tag(schema, &deeper(path, tag), required);
            }
            for branch in branches.iter().filter(|branch| type_of(branch) != "null") {
                self.walk(branch, path, false, description);
            }
            return;
        }
        match type_of(schema) {
            "object" => {
                let members = schema.get("properties").and_then(Value::as_object);
                for (name, member) in members.into_iter().flatten() {
                    let names = schema["required"].as_array();
                    let needed = names.is_some_and(|names| names.contains(&json!(name)));
                    self.walk(member, &deeper(path, name), required && needed, None);
                }
            }
            "array" => self.walk(&schema["items"], &deeper(path, "0"), required, description),
            _ => self.leaf(schema, path, required, description),
        }
    }

    /// What tells the branches of a choice apart: one of all their words.
    fn tag(&mut self, schema: &Value, path: &str, required: bool) {
        let words: Vec<&String> = schema["discriminator"]["mapping"]
            .as_object()
            .into_iter()
            .flat_map(|m| m.keys())
            .collect();
        let schema = json!({ "type": "string", "enum": words });
        if let Some(known) = self.found.iter_mut().find(|known| known["name"] == path) {
            // The same choice, or one of the same tag, in two branches of another.
            if let Some(held) = known["schema"]["enum"].as_array_mut() {
                let new: Vec<Value> = words.into_iter().map(|word| json!(word)).collect();
                let more: Vec<Value> =
                    new.into_iter().filter(|word| !held.contains(word)).collect();
                held.extend(more);
            }
            return;
        }
        self.found.push(parameter(path, required, "Type tag: which kind is given.", schema));
    }

    fn leaf(&mut self, schema: &Value, path: &str, required: bool, description: Option<&Value>) {
        let described = description.and_then(Value::as_str).unwrap_or_default();
        let mut schema = schema.clone();
        schema["type"] = type_of(&schema).into();
        if let Some(members) = schema.as_object_mut() {
            // The member's own schema has them. An example would be filled in by the
            // documentation page, and those of the branches of a choice contradict each other.
            for keyword in ["description", "title", "example", "examples"] {
                members.shift_remove(keyword);
            }
        }
        if let Some(known) = self.found.iter_mut().find(|known| known["name"] == path) {
            // The same path in two branches of a choice: what holds for both.
            let is_tag = known["schema"].get("enum").is_some();
            if !is_tag && known["schema"] != schema {
                known["schema"] = what_holds_for_both(&known["schema"], &schema);
                known["description"] = format!(
                    "{} Or: {described}",
                    known["description"].as_str().unwrap_or_default()
                )
                .into();
            }
            return;
        }
        self.found.push(parameter(path, required, described, schema));
    }
}

/// The type of two schemas, the wider of their bounds, and their unit if it is one.
fn what_holds_for_both(one: &Value, other: &Value) -> Value {
    let mut both = json!({ "type": type_of(other) });
    for name in ["x-quantity", "format", "exclusiveMinimum"] {
        if one.get(name).is_some() && one.get(name) == other.get(name) {
            both[name] = one[name].clone();
        }
    }
    let least = |schema: &Value| schema["minimum"].as_f64().or(schema["exclusiveMinimum"].as_f64());
    let most = |schema: &Value| schema["maximum"].as_f64();
    if let (Some(one), Some(other), true) =
        (least(one), least(other), both["exclusiveMinimum"].is_null())
    {
        both["minimum"] = one.min(other).into();
    }
    if let (Some(one), Some(other)) = (most(one), most(other)) {
        both["maximum"] = one.max(other).into();
    }
    both
}

/// What may be left out, a member or an option, may be blank as well. `allowEmptyValue` says so beside the schema:
/// said within it, by a second type, generated clients would send numbers as texts of their own.
pub(super) fn parameter(path: &str, required: bool, description: &str, schema: Value) -> Value {
    let mut parameter = json!({ "name": path, "in": "query" });
    let presence = if required { "required" } else { "allowEmptyValue" };
    parameter[presence] = true.into();
    parameter["description"] = description.into();
    parameter["schema"] = schema;
    parameter
}

fn deeper(path: &str, step: &str) -> String {
    if path.is_empty() { step.to_owned() } else { format!("{path}.{step}") }
}
