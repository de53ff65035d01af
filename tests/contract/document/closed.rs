//! What a question takes is closed in the document, for the service knows no member that it does not name.

use crate::spec;
use serde_json::Value;
use std::collections::BTreeSet;

/// Every schema that a question is made of, by the name of the component that it stands in.
struct Asked<'a> {
    components: &'a Value,
    met: BTreeSet<&'a str>,
    objects: usize,
    open: Vec<String>,
}

impl<'a> Asked<'a> {
    fn read(&mut self, schema: &'a Value, place: &str) {
        if let Some(name) = schema["$ref"].as_str().and_then(|to| to.rsplit('/').next()) {
            if self.met.insert(name) {
                self.read(&self.components[name], name);
            }
            return;
        }
        if let Some(members) = schema["properties"].as_object() {
            self.objects += 1;
            // Or of free names, each with what it stands for.
            if !(schema["additionalProperties"] == false
                || schema["additionalProperties"].is_object())
            {
                self.open.push(place.to_owned());
            }
            for (name, member) in members {
                self.read(member, &format!("{place}/{name}"));
            }
        }
        for inner in ["items", "additionalProperties"] {
            if schema[inner].is_object() {
                self.read(&schema[inner], place);
            }
        }
        for choice in ["oneOf", "anyOf", "allOf"] {
            for branch in schema[choice].as_array().into_iter().flatten() {
                self.read(branch, place);
            }
        }
    }
}

#[test]
fn no_part_of_a_question_takes_members_that_it_does_not_name() {
    let spec = spec();
    let mut asked = Asked {
        components: &spec["components"]["schemas"],
        met: BTreeSet::new(),
        objects: 0,
        open: Vec::new(),
    };
    let mut questions = 0;
    for (path, item) in spec["paths"].as_object().expect("paths") {
        if let Some(content) = item.pointer("/post/requestBody/content/application~1json") {
            asked.read(&content["schema"], path);
            questions += 1;
        }
    }
    assert!(asked.open.is_empty(), "{:?} are open", asked.open);
    assert!(questions > 15 && asked.objects > 80, "{questions} {}", asked.objects);
}
