//! Additions break nothing, and neither do new names of components.

use super::edits::{at, member, remove, require, schema};
use super::{breaks_after, operations};
use crate::spec;
use serde_json::{Value, json};

#[track_caller]
fn assert_keeps(change: impl FnOnce(&mut Value)) {
    assert_eq!(breaks_after(change), []);
}

#[test]
fn a_new_operation_status_or_media_type() {
    assert_keeps(|spec| {
        let again = at(spec, "/paths/~1v1").clone();
        spec["paths"]["/v2"] = again;
    });
    assert_keeps(|spec| {
        let responses = at(spec, "/paths/~1v1~1top-up/post/responses");
        responses["507"] = json!({ "description": "No room." });
    });
    assert_keeps(|spec| {
        let content = at(spec, "/components/responses/TopUpAnswered/content");
        content["application/yaml"] = json!({ "schema": { "type": "string" } });
    });
    assert_keeps(|spec| {
        let body = at(spec, "/paths/~1v1~1top-up/post/requestBody");
        body["content"]["application/yaml"] = json!({ "schema": { "type": "string" } });
        body["required"] = false.into();
    });
}

#[test]
fn a_request_may_say_more_than_it_could() {
    assert_keeps(|spec| {
        schema(spec, "MachineSump")["properties"]["shift"] = json!({ "type": "string" });
    });
    assert_keeps(|spec| remove(&mut schema(spec, "MachineSump")["required"], "volume"));
    assert_keeps(|spec| member(spec, "MachineSump", "volume")["maximum"] = 1e300.into());
    assert_keeps(|spec| member(spec, "MachineSump", "volume")["type"] = json!(["number", "null"]));
    assert_keeps(|spec| {
        schema(spec, "TopUpDraining")["enum"]
            .as_array_mut()
            .expect("words")
            .push("at night".into());
    });
    assert_keeps(|spec| {
        let by_eye = json!({
            "type": "object",
            "required": ["method"],
            "properties": { "method": { "type": "string", "enum": ["by_eye"] } },
        });
        schema(spec, "StrengthReading")["oneOf"].as_array_mut().expect("branches").push(by_eye);
    });
    assert_keeps(|spec| {
        let shift = json!({ "name": "shift", "in": "query", "schema": { "type": "string" } });
        let asked = at(spec, "/paths/~1v1~1top-up/get/parameters");
        asked.as_array_mut().expect("parameters").push(shift);
    });
}

#[test]
fn an_answer_may_say_more_and_promise_more() {
    assert_keeps(|spec| {
        let answer = schema(spec, "TopUpAnswer");
        answer["properties"]["shift"] = json!({ "type": "string" });
        require(answer, "shift");
    });
    assert_keeps(|spec| require(schema(spec, "TopUpStep"), "mark"));
    assert_keeps(|spec| member(spec, "TopUpAnswer", "drain")["maximum"] = 1.into());
    assert_keeps(|spec| remove(&mut schema(spec, "TopUpAction")["enum"], "reread"));
    assert_keeps(|spec| {
        schema(spec, "BindingConstraint")["oneOf"].as_array_mut().expect("branches").remove(0);
    });
    assert_keeps(|spec| {
        let headers = at(spec, "/components/responses/Problem422/headers");
        headers["Content-Language"] = json!({ "schema": { "type": "string" } });
    });
}

#[test]
fn other_words_for_the_same() {
    assert_keeps(|spec| {
        let volume = member(spec, "MachineSump", "volume");
        volume["description"] = "As much as there is.".into();
        volume["examples"] = json!([1]);
    });
    assert_keeps(|spec| {
        let optional = member(spec, "MachineSump", "concentration");
        let mut number = optional.clone();
        number["type"] = "number".into();
        *optional = json!({ "anyOf": [{ "type": "null" }, number] });
    });
}

#[test]
fn a_key_that_is_no_longer_needed() {
    let mut released = spec();
    released["security"] = json!([{ "key": [] }]);
    assert_eq!(operations::breaks(&released, &spec()), []);
}

/// The document with every component renamed.
fn renamed(spec: &Value) -> Value {
    let mut text = spec.to_string();
    for kind in ["schemas", "parameters", "responses"] {
        text =
            text.replace(&format!("#/components/{kind}/"), &format!("#/components/{kind}/Other"));
    }
    let mut renamed: Value = serde_json::from_str(&text).expect("still JSON");
    for kind in ["schemas", "parameters", "responses"] {
        let components = renamed["components"][kind].as_object_mut().expect("components");
        let own: Vec<_> = std::mem::take(components).into_iter().collect();
        components.extend(own.into_iter().map(|(name, one)| (format!("Other{name}"), one)));
    }
    let scheme = renamed["components"]["securitySchemes"]["key"].clone();
    renamed["components"]["securitySchemes"] = json!({ "badge": scheme });
    renamed["security"] = json!([{}, { "badge": [] }]);
    renamed
}

#[test]
fn other_names_of_components_break_nothing_and_hide_nothing() {
    let mut other = renamed(&spec());
    assert!(other.to_string().contains("#/components/schemas/OtherMachineSump\""));
    assert_eq!(operations::breaks(&spec(), &other), []);
    member(&mut other, "OtherMachineSump", "volume")["maximum"] = 1.into();
    let breaks = operations::breaks(&spec(), &other);
    assert!(breaks.iter().all(|found| found.what == "maximum is narrower"), "{breaks:?}");
    assert!(!breaks.is_empty());
}

/// A component with an old name and a new meaning must not pass for the old one.
#[test]
fn an_old_name_for_something_else_is_no_excuse() {
    let mut now = spec();
    let stock = schema(&mut now, "FluidStock").clone();
    *schema(&mut now, "MachineSump") = stock;
    assert!(!operations::breaks(&spec(), &now).is_empty());
}
