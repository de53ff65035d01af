//! Small changes to a document, which must find what they change.

use serde_json::Value;

pub(super) fn at<'a>(spec: &'a mut Value, pointer: &str) -> &'a mut Value {
    spec.pointer_mut(pointer).unwrap_or_else(|| panic!("nothing at {pointer}"))
}

pub(super) fn schema<'a>(spec: &'a mut Value, name: &str) -> &'a mut Value {
    at(spec, &format!("/components/schemas/{name}"))
}

pub(super) fn member<'a>(spec: &'a mut Value, component: &str, name: &str) -> &'a mut Value {
    at(spec, &format!("/components/schemas/{component}/properties/{name}"))
}

/// A parameter of an operation, inline or through its reference.
pub(super) fn parameter<'a>(spec: &'a mut Value, operation: &str, name: &str) -> &'a mut Value {
    let own = format!("{operation}/parameters");
    let all = at(spec, &own).as_array().expect("parameters");
    let place = all.iter().position(|one| one["name"] == name);
    match place {
        Some(place) => at(spec, &format!("{own}/{place}")),
        None => at(spec, &format!("/components/parameters/{name}")),
    }
}

/// Removes a member from an object, or a word or a parameter from a list.
pub(super) fn remove(holder: &mut Value, name: &str) {
    let removed = match holder {
        Value::Object(members) => members.shift_remove(name).is_some(),
        Value::Array(entries) => {
            let before = entries.len();
            let refers = format!("#/components/parameters/{name}");
            entries
                .retain(|entry| entry != name && entry["name"] != name && entry["$ref"] != *refers);
            entries.len() < before
        }
        _ => false,
    };
    assert!(removed, "there is no {name} to remove");
}

pub(super) fn require(schema: &mut Value, name: &str) {
    schema["required"].as_array_mut().expect("required members").push(name.into());
}
