//! The flat form: a document as paths and texts, for callers that can only request
//! an address or fill a row.
//!
//! A member's path is written with dots, an entry of a list by its number, counted from
//! 0: `sump.volume=140&stocks.0.concentration=100`. A blank text means that the member
//! is not given. One of a few words may be in any case; true and false may be yes and no.

use crate::request::problem::{FaultCode, Problem, RequestFault};
use crate::row::guard::harmless;
use crate::row::words;
use serde_json::{Map, Number, Value};
use std::collections::BTreeMap;
use std::collections::btree_map::Entry;
use sumpwright_engine::document::{Pointer, Shape};
use sumpwright_engine::text::FAULTS_LISTED;

/// The leaves of a document, each with its path.
#[must_use]
pub fn flatten(document: &Value) -> Vec<(String, &Value)> {
    let mut leaves = Vec::new();
    collect(document, String::new(), &mut leaves);
    leaves
}

fn collect<'a>(value: &'a Value, path: String, leaves: &mut Vec<(String, &'a Value)>) {
    let deeper =
        |step: &str| if path.is_empty() { step.to_owned() } else { format!("{path}.{step}") };
    match value {
        Value::Object(members) => {
            for (name, member) in members {
                collect(member, deeper(name), leaves);
            }
        }
        Value::Array(entries) => {
            for (i, entry) in entries.iter().enumerate() {
                collect(entry, deeper(&i.to_string()), leaves);
            }
        }
        Value::Null => {}
        leaf => leaves.push((path, leaf)),
    }
}

/// A leaf as text for an address or a cell.
#[must_use]
pub fn leaf_text(leaf: &Value) -> String {
    match leaf {
        Value::String(text) => text.clone(),
        other => other.to_string(),
    }
}

/// The same, with a decimal comma in numbers if requested.
#[must_use]
pub fn shown(leaf: &Value, decimal_comma: bool) -> String {
    let text = leaf_text(leaf);
    if decimal_comma && leaf.is_number() { text.replacen('.', ",", 1) } else { text }
}

/// The value at `path` in `document`.
#[must_use]
pub fn pick<'a>(document: &'a Value, path: &str) -> Option<&'a Value> {
    path.split('.').try_fold(document, |value, step| match value {
        Value::Array(entries) => entries.get(step.parse::<usize>().ok()?),
        value => value.get(step),
    })
}

/// A record, or a part of it, as CSV with one name and one value per line.
#[must_use]
pub fn names_and_values(record: &serde_json::Value, decimal_comma: bool) -> Vec<u8> {
    let mut writer = csv::Writer::from_writer(Vec::new());
    // A writer into memory does not fail.
    let _ = writer.write_record(["name", "value"]);
    for (path, leaf) in flatten(record) {
        let text = shown(leaf, decimal_comma);
        let _ = writer.write_record([path.as_str(), &harmless(&text)]);
    }
    writer.into_inner().unwrap_or_default()
}

/// Builds the document from pairs of path and text. The shape says which texts are
/// numbers.
pub fn unflatten<'a>(
    pairs: impl IntoIterator<Item = (&'a str, &'a str)>,
    shape: &Shape,
) -> Result<Value, Problem> {
    let mut root = Node::Members(Vec::new());
    let mut faults = Vec::new();
    for (path, text) in pairs {
        if text.trim().is_empty() {
            continue;
        }
        if let Err(fault) = root.insert(path, text, shape)
            && faults.len() <= FAULTS_LISTED
        {
            faults.push(fault);
        }
    }
    let document = root.into_value(&mut Pointer::root(), &mut faults);
    if faults.is_empty() { Ok(document) } else { Err(Problem::with_faults(faults)) }
}

/// Maximum number of steps of a path: fewer than the depth the reader of documents
/// allows, so that every document built here can be read and dropped.
const STEPS_MOST: usize = 100;

/// A document being built from its paths: lists may still have gaps.
enum Node {
    Leaf(Value),
    Members(Vec<(String, Node)>),
    List(BTreeMap<usize, Node>),
}

impl Node {
    fn insert(&mut self, path: &str, text: &str, question: &Shape) -> Result<(), RequestFault> {
        let mut node = self;
        let mut shape = Some(question);
        let mut pointer = Pointer::root();
        if path.split('.').nth(STEPS_MOST).is_some() {
            let detail = format!(
                "This path has more than {STEPS_MOST} steps; no member has such a long path."
            );
            return Err(RequestFault::new(
                FaultCode::TooLong,
                Pointer::root().join(path.split('.').next().unwrap_or(path)),
                detail,
            ));
        }
        for step in path.split('.') {
            pointer.push(step);
            (node, shape) = match shape {
                Some(Shape::List(entry, lengths)) => {
                    (node.entry(step, &pointer, lengths.most)?, Some(entry.as_ref()))
                }
                shape => (node.child(step, &pointer)?, shape.and_then(|shape| shape.member(step))),
            };
        }
        match node {
            Self::Members(members) if members.is_empty() => {
                let word = match shape {
                    Some(Shape::Word(_) | Shape::Either(_)) => word_at(path, text, question),
                    _ => None,
                };
                *node = Self::Leaf(match word {
                    Some(word) => Value::String(word.to_owned()),
                    None => read_leaf(text, shape, &pointer)?,
                });
                Ok(())
            }
            _ => Err(RequestFault::new(
                FaultCode::GivenTwice,
                pointer.clone(),
                "This is given twice. Leave one of them out.",
            )),
        }
    }

    fn child(&mut self, step: &str, pointer: &Pointer) -> Result<&mut Self, RequestFault> {
        let Self::Members(members) = self else {
            return Err(below_a_value(pointer));
        };
        let place = members.iter().position(|(name, _)| name == step).unwrap_or_else(|| {
            members.push((step.to_owned(), Self::Members(Vec::new())));
            members.len() - 1
        });
        Ok(&mut members[place].1)
    }

    fn entry(
        &mut self,
        step: &str,
        pointer: &Pointer,
        most: usize,
    ) -> Result<&mut Self, RequestFault> {
        let place = step.parse::<usize>().ok().filter(|place| *place < most);
        let Some(place) = place else {
            if step.parse::<usize>().is_ok() {
                let detail = format!("This list is too long: the maximum is {most} entries.");
                return Err(RequestFault::new(FaultCode::TooMany, pointer.clone(), detail));
            }
            let detail = format!(
                "Entries of this list are numbered from 0 to {}; {step:?} is not one of these \
                 numbers.",
                most - 1
            );
            return Err(RequestFault::new(FaultCode::UnknownMember, pointer.clone(), detail));
        };
        if matches!(self, Self::Members(members) if members.is_empty()) {
            *self = Self::List(BTreeMap::new());
        }
        let Self::List(entries) = self else {
            return Err(below_a_value(pointer));
        };
        Ok(match entries.entry(place) {
            Entry::Vacant(vacant) => vacant.insert(Self::Members(Vec::new())),
            Entry::Occupied(occupied) => occupied.into_mut(),
        })
    }

    fn into_value(self, pointer: &mut Pointer, faults: &mut Vec<RequestFault>) -> Value {
        match self {
            Self::Leaf(value) => value,
            Self::Members(members) => {
                let mut object = Map::new();
                for (name, node) in members {
                    pointer.push(&name);
                    object.insert(name, node.into_value(pointer, faults));
                    pointer.pop();
                }
                Value::Object(object)
            }
            Self::List(entries) => {
                let mut list = Vec::new();
                for (place, node) in entries {
                    if place != list.len() {
                        let detail = format!(
                            "Entry {} of this list is missing; entries are numbered from 0.",
                            list.len()
                        );
                        faults.push(RequestFault::new(FaultCode::Missing, pointer.clone(), detail));
                        break;
                    }
                    pointer.push_place(place);
                    list.push(node.into_value(pointer, faults));
                    pointer.pop();
                }
                Value::Array(list)
            }
        }
    }
}

fn below_a_value(pointer: &Pointer) -> RequestFault {
    let detail = "A member that contains this one already has a value.";
    RequestFault::new(FaultCode::GivenTwice, pointer.clone(), detail)
}

/// The word that a text at `path` means, where one of a few words belongs.
fn word_at<'s>(path: &str, text: &str, question: &'s Shape) -> Option<&'s str> {
    let mut known: Vec<&str> = Vec::new();
    for shape in question.all_at_path(path) {
        let several = match shape {
            Shape::Either(several) => several.as_slice(),
            one => std::slice::from_ref(one),
        };
        for shape in several {
            if let Shape::Word(words) = shape {
                known.extend(words.iter().map(String::as_str));
            }
        }
    }
    words::meant(text, known.into_iter())
}

/// Reads a text as the type that the shape expects. A text that is not a number stays
/// text; the check against the schema then reports it.
fn read_leaf(text: &str, shape: Option<&Shape>, pointer: &Pointer) -> Result<Value, RequestFault> {
    match shape {
        Some(Shape::Number(_)) => read_number(text, pointer),
        Some(Shape::Truth) => {
            Ok(words::truth(text).map_or_else(|| Value::String(text.to_owned()), Value::Bool))
        }
        _ => Ok(Value::String(text.to_owned())),
    }
}

fn read_number(text: &str, pointer: &Pointer) -> Result<Value, RequestFault> {
    let text = text.trim();
    if let Ok(number) = serde_json::from_str::<Number>(text) {
        return Ok(Value::Number(number));
    }
    match text.parse::<f64>() {
        Ok(number) => Number::from_f64(number).map(Value::Number).ok_or_else(|| {
            RequestFault::new(FaultCode::NotFinite, pointer.clone(), "This is not a finite number.")
        }),
        Err(_) => Ok(Value::String(text.to_owned())),
    }
}
