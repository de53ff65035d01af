//! The OpenAPI document.

mod closed;
mod examples;
mod generators;
mod parameters;
mod size;
mod titles;

use crate::server::post;
use crate::{SERVICES, spec};
use serde_json::Value;
use std::collections::BTreeSet;

#[test]
fn the_shipped_document_is_fresh() {
    let shipped = include_str!("../../../openapi/openapi.json");
    assert!(
        shipped == SERVICES.openapi,
        "openapi/openapi.json is stale. Make it anew: cargo run -- spec > openapi/openapi.json"
    );
}

#[test]
fn every_example_in_it_is_answered_as_it_says() {
    let spec = spec();
    let mut posted = 0;
    for (path, item) in spec["paths"].as_object().expect("paths") {
        let Some(content) = item.pointer("/post/requestBody/content/application~1json") else {
            continue;
        };
        let answer: Value = post(path, &content["example"]).json().expect("an answer");
        let answers = item["post"]["responses"]["200"]["$ref"].as_str().expect("a component");
        let json = format!("{}/content/application~1json", &answers[1..]);
        let shown = spec.pointer(&json).expect("an answer's schema").get("example");
        assert!(shown.is_none_or(|shown| *shown == answer), "{path}: {answer}");
        posted += 1;
    }
    assert_eq!(posted, SERVICES.iter().count());
}

/// The form from which generators make good clients: named components with a
/// discriminator and its mapping.
#[test]
fn every_tagged_choice_is_of_named_components_with_a_discriminator() {
    let spec = spec();
    let components = spec["components"]["schemas"].as_object().expect("components");
    let mut choices = 0;
    for (name, schema) in components {
        let Some(branches) = schema["oneOf"].as_array() else { continue };
        for branch in branches {
            assert!(branch["$ref"].is_string(), "{name} has a branch without a name");
        }
        let tagged = branches.iter().filter_map(|branch| {
            let branch = branch["$ref"].as_str()?.rsplit('/').next()?;
            let members = components[branch]["properties"].as_object()?;
            members
                .iter()
                .find(|(_, schema)| schema["enum"].as_array().is_some_and(|w| w.len() == 1))
        });
        let tags: BTreeSet<&String> = tagged.map(|(tag, _)| tag).collect();
        if let Some(tag) = tags.iter().next() {
            let discriminator = &schema["discriminator"];
            assert_eq!(discriminator["propertyName"], ***tag, "{name}");
            let mapped = discriminator["mapping"].as_object().expect("a mapping");
            assert_eq!(mapped.len(), branches.len(), "{name}");
            choices += 1;
        }
    }
    assert!(choices >= 2, "Reading and Binding are such choices");
}

#[test]
fn operations_have_names_of_their_own_and_no_component_is_unused() {
    let text = &SERVICES.openapi;
    let spec = spec();
    let mut names = BTreeSet::new();
    for item in spec["paths"].as_object().expect("paths").values() {
        for operation in item.as_object().expect("operations").values() {
            let name = operation["operationId"].as_str().expect("a name");
            assert!(names.insert(name.to_owned()), "{name} names two operations");
            let parameters = operation["parameters"].as_array().into_iter().flatten();
            let mut taken = BTreeSet::new();
            for parameter in parameters {
                let named = parameter.get("name").or_else(|| parameter.get("$ref"));
                let parameter = named.expect("a name").to_string();
                assert!(taken.insert(parameter.clone()), "{name} has {parameter} twice");
            }
        }
    }
    for kind in ["schemas", "parameters", "headers", "responses"] {
        for name in spec["components"][kind].as_object().expect("components").keys() {
            let used = format!("\"#/components/{kind}/{name}\"");
            assert!(text.contains(&used), "{name} is unused");
        }
    }
}
