//! Whether one schema still allows what another did, following references: the names
//! of components do not matter.
//!
//! Both directions are the same question: does everything that `inner` allows
//! fit into `outer`? Requests must remain valid (the released schema fits into the
//! new one), and answers must keep the promise (the new schema fits into the released
//! one).

use super::limits;
use serde_json::{Map, Value, json};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt;

/// A difference that callers of the released contract would notice.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Break {
    pub(super) place: String,
    pub(super) what: String,
}

impl fmt::Display for Break {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{}: {}", self.place, self.what)
    }
}

/// The direction of a value.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Way {
    /// From the caller: everything that was accepted must still be accepted.
    Sent,
    /// To the caller: everything sent must have been promised.
    Received,
}

impl Way {
    /// The one of two phrases that fits the direction.
    pub(super) fn say(self, sent: &str, received: &str) -> String {
        (if self == Self::Sent { sent } else { received }).to_owned()
    }
}

/// Keywords that promise nothing about a value.
const NOTES: [&str; 8] = [
    "description",
    "title",
    "example",
    "examples",
    "discriminator",
    "deprecated",
    "externalDocs",
    // The unit of a kind of quantity: `units.rs` compares it once for each kind.
    "x-unit",
];

/// Keywords that [`Comparison`] handles; any other must not change.
const KNOWN: [&str; 18] = [
    "type",
    "enum",
    "properties",
    "required",
    "additionalProperties",
    "propertyNames",
    "items",
    "minimum",
    "maximum",
    "exclusiveMinimum",
    "exclusiveMaximum",
    "minLength",
    "maxLength",
    "minItems",
    "maxItems",
    "minProperties",
    "maxProperties",
    "pattern",
];

/// What an answer has to be handed back as it is, and no caller reads.
const HANDED_BACK: &str = "/answer/state";

/// The comparison of the schemas of two documents.
pub(super) struct Comparison<'a> {
    pub(super) way: Way,
    pub(super) released: &'a Value,
    pub(super) now: &'a Value,
    /// References with the same meaning in both, which need no second comparison.
    pub(super) unchanged: &'a BTreeSet<String>,
}

/// The references to the same schema in two documents, including everything that the
/// schema refers to.
pub(super) fn unchanged(released: &Value, now: &Value) -> BTreeSet<String> {
    fn schemas(document: &Value) -> Option<&Map<String, Value>> {
        document["components"]["schemas"].as_object()
    }
    let (Some(before), Some(after)) = (schemas(released), schemas(now)) else {
        return BTreeSet::new();
    };
    let refers_to = |schema: &Value| {
        let mut found = Vec::new();
        note_references(schema, &mut found);
        found
    };
    let equal = before.iter().filter(|(name, schema)| after.get(*name) == Some(*schema));
    let mut same: BTreeMap<String, Vec<String>> = equal
        .map(|(name, schema)| (format!("#/components/schemas/{name}"), refers_to(schema)))
        .collect();
    loop {
        let names: BTreeSet<String> = same.keys().cloned().collect();
        same.retain(|_, references| references.iter().all(|name| names.contains(name)));
        if same.len() == names.len() {
            return names;
        }
    }
}

fn note_references(schema: &Value, found: &mut Vec<String>) {
    found.extend(schema["$ref"].as_str().map(str::to_owned));
    match schema {
        Value::Object(members) => members.values().for_each(|value| note_references(value, found)),
        Value::Array(entries) => entries.iter().for_each(|value| note_references(value, found)),
        _ => {}
    }
}

/// The breaks between two schemas at one place.
pub(super) fn between(
    documents: &Comparison<'_>,
    place: &str,
    released: &Value,
    now: &Value,
) -> Vec<Break> {
    match documents.way {
        Way::Sent => documents.misfits(place, released, now),
        Way::Received => documents.misfits(place, now, released),
    }
}

impl Comparison<'_> {
    /// The parts of `inner` that do not fit into `outer`.
    fn misfits(&self, place: &str, inner: &Value, outer: &Value) -> Vec<Break> {
        if self.way == Way::Received && place.ends_with(HANDED_BACK) {
            return Vec::new();
        }
        let (from, into) = match self.way {
            Way::Sent => (self.released, self.now),
            Way::Received => (self.now, self.released),
        };
        if inner["$ref"].as_str().is_some_and(|name| self.unchanged.contains(name))
            && inner["$ref"] == outer["$ref"]
        {
            return Vec::new();
        }
        let outers = branches(into, outer);
        let misfits = branches(from, inner).into_iter().flat_map(|inner| {
            let alike = outers.iter().filter(|outer| is_of_the_kind_of(&inner, outer));
            let compared = alike.map(|outer| self.misfits_of_branch(place, &inner, outer));
            compared.min_by_key(Vec::len).unwrap_or_else(|| {
                let kind = kind(&inner);
                let what = self
                    .way
                    .say(&format!("{kind} is no longer taken"), &format!("{kind} may come now"));
                vec![Break { place: place.to_owned(), what }]
            })
        });
        let mut found: Vec<Break> = Vec::new();
        for misfit in misfits {
            if !found.contains(&misfit) {
                found.push(misfit);
            }
        }
        found
    }

    fn misfits_of_branch(&self, place: &str, inner: &Value, outer: &Value) -> Vec<Break> {
        let mut what = limits::misfits(self.way, inner, outer);
        what.extend(other_keywords(inner, outer));
        let here = what.into_iter().map(|what| Break { place: place.to_owned(), what });
        let mut found: Vec<Break> = here.collect();
        found.extend(self.misfits_of_members(place, inner, outer));
        match (inner.get("items"), outer.get("items")) {
            (Some(inner), Some(outer)) => {
                found.extend(self.misfits(&format!("{place}[]"), inner, outer));
            }
            (None, Some(_)) => found.push(Break {
                place: format!("{place}[]"),
                what: self.way.say("entries are limited now", "entries may be anything now"),
            }),
            _ => {}
        }
        found
    }

    fn misfits_of_members(&self, place: &str, inner: &Value, outer: &Value) -> Vec<Break> {
        let mut found = Vec::new();
        let mut note =
            |name: &str, what: String| found.push(Break { place: format!("{place}/{name}"), what });
        for name in names(outer).filter(|name| !names(inner).any(|own| own == *name)) {
            note(name, self.way.say("it is newly required", "it is no longer always there"));
        }
        let (ours, theirs) = (members(inner), members(outer));
        let (released, now) = match self.way {
            Way::Sent => (&ours, &theirs),
            Way::Received => (&theirs, &ours),
        };
        for name in released.keys().filter(|name| !now.contains_key(*name)) {
            note(name, "the member is gone".to_owned());
        }
        let (others, their_others) = (others(inner), others(outer));
        match (&others, &their_others) {
            (Others::Any | Others::Fit(_), Others::None) if self.way == Way::Sent => {
                note("{name}", "names of the caller's own are no longer taken".to_owned());
            }
            (Others::Any, Others::Fit(_)) => note(
                "{name}",
                self.way.say("names of the caller's own are limited now", "it may be anything now"),
            ),
            (Others::None, Others::Fit(_)) if self.way == Way::Received => {
                note("{name}", "names of the caller's own are gone".to_owned());
            }
            _ => {}
        }
        let mut deeper = |name: &str, inner: &Value, outer: &Value| {
            found.extend(self.misfits(&format!("{place}/{name}"), inner, outer));
        };
        for (name, member) in &ours {
            match (theirs.get(name), &their_others) {
                (Some(their), _) => deeper(name, member, their),
                // A new member where any name was allowed, with a schema for its value.
                (None, Others::Fit(their)) => deeper(name, member, their),
                _ => {}
            }
        }
        if let Others::Fit(others) = others {
            for (name, their) in theirs.iter().filter(|(name, _)| !ours.contains_key(*name)) {
                deeper(name, others, their);
            }
            if let Others::Fit(their) = their_others {
                deeper("{name}", others, their);
            }
        }
        match (inner.get("propertyNames"), outer.get("propertyNames")) {
            (Some(inner), Some(outer)) => deeper("{name} itself", inner, outer),
            (None, Some(outer)) => deeper("{name} itself", &json!({ "type": "string" }), outer),
            _ => {}
        }
        found
    }
}

/// The schema for members of an object other than its named ones.
enum Others<'a> {
    None,
    Any,
    Fit(&'a Value),
}

fn others(schema: &Value) -> Others<'_> {
    match schema.get("additionalProperties") {
        Some(Value::Bool(false)) => Others::None,
        Some(others @ Value::Object(_)) => Others::Fit(others),
        _ => Others::Any,
    }
}

fn members(schema: &Value) -> Map<String, Value> {
    schema["properties"].as_object().cloned().unwrap_or_default()
}

fn names(schema: &Value) -> impl Iterator<Item = &str> {
    schema["required"].as_array().into_iter().flatten().filter_map(Value::as_str)
}

/// Follows a chain of references.
pub(super) fn resolve<'a>(document: &'a Value, mut value: &'a Value) -> &'a Value {
    while let Some(reference) = value.get("$ref").and_then(Value::as_str) {
        let pointer = reference.trim_start_matches('#');
        let found = document.pointer(pointer);
        value = found.unwrap_or_else(|| panic!("{reference} refers to nothing"));
    }
    value
}

/// The kinds of value that a schema allows, each a schema of one type: nested choices
/// are flattened, with their common keywords repeated in every branch.
fn branches(document: &Value, schema: &Value) -> Vec<Value> {
    let mut schema = resolve(document, schema).clone();
    let own = schema.as_object_mut();
    if let Some(Value::Array(parts)) = own.and_then(|own| own.shift_remove("allOf")) {
        schema = parts.iter().fold(schema, |whole, part| both(whole, resolve(document, part)));
    }
    for choice in ["oneOf", "anyOf"] {
        let own = schema.as_object_mut();
        if let Some(Value::Array(choice)) = own.and_then(|own| own.shift_remove(choice)) {
            let spread = choice.iter().flat_map(|branch| branches(document, branch));
            return spread.map(|branch| both(branch, &schema)).collect();
        }
    }
    let Some(Value::Array(kinds)) = schema.get("type") else { return vec![schema] };
    kinds.iter().map(|kind| both(json!({ "type": kind }), &without(&schema, "type"))).collect()
}

fn without(schema: &Value, keyword: &str) -> Value {
    let mut schema = schema.clone();
    schema.as_object_mut().and_then(|own| own.shift_remove(keyword));
    schema
}

/// A schema that combines the demands of two. Null stays null, whatever else is demanded.
fn both(mut one: Value, other: &Value) -> Value {
    if one["type"] == "null" {
        return one;
    }
    let demands = other.as_object().into_iter().flatten();
    for (keyword, demand) in demands.filter(|(name, _)| !NOTES.contains(&name.as_str())) {
        match (one.get_mut(keyword), demand) {
            (Some(Value::Array(own)), Value::Array(more)) if keyword == "required" => {
                own.extend(more.iter().cloned());
            }
            // A member that both know is that of the one that says the more of it.
            (Some(Value::Object(own)), Value::Object(more)) if keyword == "properties" => {
                for (name, member) in more {
                    own.entry(name.clone()).or_insert_with(|| member.clone());
                }
            }
            (Some(own), demand) => {
                assert_eq!(own, demand, "the comparison does not know two {keyword} at one place");
            }
            (None, demand) => one[keyword] = demand.clone(),
        }
    }
    one
}

/// The type tags: members that are limited to a single word.
fn tags(schema: &Value) -> Vec<(String, Value)> {
    let single = |member: &Value| match member.get("enum")?.as_array()?.as_slice() {
        [word] => Some(word.clone()),
        _ => None,
    };
    members(schema).iter().filter_map(|(name, m)| Some((name.clone(), single(m)?))).collect()
}

fn is_of_the_kind_of(inner: &Value, outer: &Value) -> bool {
    let same_type = match (&inner["type"], &outer["type"]) {
        (_, Value::Null) => true,
        (inner, outer) => inner == outer || (inner == "integer" && outer == "number"),
    };
    let their_tags = tags(outer);
    let clash = |(name, word): &(String, Value)| {
        their_tags.iter().any(|(their, their_word)| their == name && their_word != word)
    };
    same_type && !tags(inner).iter().any(clash)
}

fn kind(schema: &Value) -> String {
    let kind = schema["type"].as_str().unwrap_or("anything");
    match tags(schema).first() {
        Some((name, word)) => format!("{kind} with {name} {word}"),
        None => kind.to_owned(),
    }
}

/// Keywords that must not change, above all the kind of quantity.
fn other_keywords(inner: &Value, outer: &Value) -> Vec<String> {
    let keywords = |schema: &Value| -> Vec<String> {
        let all = schema.as_object().into_iter().flat_map(Map::keys).cloned();
        all.filter(|name| !NOTES.contains(&name.as_str()) && !KNOWN.contains(&name.as_str()))
            .collect()
    };
    let is_double = [inner, outer]
        .iter()
        .all(|schema| schema.get("format").is_none_or(|format| format == "double"));
    let mut all = keywords(inner);
    all.extend(keywords(outer));
    all.sort_unstable();
    all.dedup();
    // JSON has no other number: that it is a double is what every reader could take it for.
    all.retain(|name| inner.get(name) != outer.get(name) && !(name == "format" && is_double));
    all.into_iter().map(|name| format!("{name} is not what it was")).collect()
}
