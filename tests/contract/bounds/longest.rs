//! The longest lists and maps of every calculation.

use super::example;
use serde_json::{Map, Value, json};
use sumpwright_engine::document::Shape;
use sumpwright_openapi::service::Service;

/// Maximum length of a document, with a margin.
const BYTES_MOST: usize = 7_000_000;

/// The example of a calculation with each of its lists in turn at maximum length, and one
/// with the maximum number of properties everywhere; each with a word that describes
/// it.
pub(super) fn longest(service: &Service) -> Vec<(String, Value)> {
    let example = example(service.name);
    let mut places = Vec::new();
    lists(&example, &service.question, "", &mut places);
    let mut all: Vec<(String, Value)> = places
        .into_iter()
        .map(|(pointer, most)| {
            let mut document = example.clone();
            let list = document.pointer_mut(&pointer).expect("it is there");
            lengthen(list.as_array_mut().expect("a list"), most);
            (format!("{}{pointer}", service.name), document)
        })
        .collect();
    let mut followed = example.clone();
    if follow(&mut followed, &service.question) {
        all.push((format!("{}, properties", service.name), followed));
    }
    all
}

fn lists(value: &Value, shape: &Shape, pointer: &str, found: &mut Vec<(String, usize)>) {
    let Some(shape) = shape.fitting(value) else { return };
    match (shape, value) {
        (Shape::List(entry, lengths), Value::Array(entries)) => {
            if let Some(first) = entries.first() {
                found.push((pointer.to_owned(), lengths.most));
                lists(first, entry, &format!("{pointer}/0"), found);
            }
        }
        (shape, Value::Object(members)) => {
            for (name, value) in members {
                if let Some(shape) = shape.member(name) {
                    lists(value, shape, &format!("{pointer}/{name}"), found);
                }
            }
        }
        _ => {}
    }
}

/// Fills a list with copies of its entries, each with its own name and with increasing
/// days.
fn lengthen(list: &mut Vec<Value>, most: usize) {
    let own = list.clone();
    let bytes = serde_json::to_vec(&own).expect("JSON").len() / own.len() + 24;
    let last = own.iter().filter_map(|entry| entry["day"].as_f64()).fold(0.0, f64::max);
    for place in list.len()..most.min(BYTES_MOST / bytes) {
        let mut entry = own[place % own.len()].clone();
        if let Some(Value::String(name)) = entry.get_mut("name") {
            *name = format!("{name} {place}");
        }
        if let Some(day) = entry.get_mut("day") {
            *day = json!(last + f64::from(u32::try_from(place).expect("a place")) / 1000.0);
        }
        list.push(entry);
    }
}

fn follow(value: &mut Value, shape: &Shape) -> bool {
    let Some(shape) = shape.fitting(value) else { return false };
    let mut any = false;
    if let (Shape::Record(_, Some(others)), Value::Object(members)) = (shape, &mut *value)
        && others.are_properties
    {
        let Some((_, like)) = members.iter().find(|(name, _)| *name != "tramp_oil") else {
            return false;
        };
        let like = like.clone();
        let more = (members.len()..90).map(|i| (format!("p{i}"), like.clone()));
        members.extend(more.collect::<Map<_, _>>());
        return true;
    }
    match (shape, value) {
        (Shape::List(entry, _), Value::Array(entries)) => {
            entries.iter_mut().for_each(|value| any |= follow(value, entry));
        }
        (shape, Value::Object(members)) => {
            for (name, value) in members {
                if let Some(shape) = shape.member(name) {
                    any |= follow(value, shape);
                }
            }
        }
        _ => {}
    }
    any
}
