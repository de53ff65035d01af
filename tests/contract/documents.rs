//! Documents of every calculation: round trips, the flat form, US units and limits.

use crate::support::units::{assert_same_in_us_units, in_us_units};
use crate::support::{example, validator};
use crate::{SERVICES, solve};
use serde_json::{Value, json};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::catalogue::{Catalogue, Everything, Visitor};
use sumpwright_engine::document::Shape;
use sumpwright_openapi::document::{ADDRESS_KEY, QUERY_OPTIONS, question_name};
use sumpwright_openapi::envelope::{Record, Request};
use sumpwright_openapi::flat;
use sumpwright_openapi::problem::FaultCode;

struct RoundTrip;

impl Visitor for RoundTrip {
    fn visit<C: Calculation>(&mut self) {
        let service = SERVICES.get(C::NAME).expect("it is served");
        let answer = service.answer(C::EXAMPLE.as_bytes()).expect("an example is answered");
        let record: Record<C::Answer> = serde_json::from_slice(&answer).expect("a typed answer");
        let again = serde_json::to_vec(&record).expect("it is written");
        assert_eq!(String::from_utf8_lossy(&again), String::from_utf8_lossy(&answer));

        let request: Request<C> = serde_json::from_str(C::EXAMPLE).expect("a typed request");
        let again = serde_json::to_vec(&request).expect("it is written");
        assert_eq!(service.answer(&again).expect("it is answered"), answer);
    }
}

#[test]
fn requests_and_answers_round_trip_through_their_types_bit_for_bit() {
    Everything.show(&mut RoundTrip);
}

#[test]
fn the_flat_form_gets_the_same_answer() {
    for service in SERVICES.iter() {
        let example = example(service.name);
        let answer = solve(service.name, &example).expect("an example is answered");
        let leaves: Vec<(String, String)> = flat::flatten(&example)
            .into_iter()
            .map(|(path, leaf)| (path, flat::leaf_text(leaf)))
            .collect();
        let pairs = leaves.iter().map(|(path, text)| (path.as_str(), text.as_str()));
        assert_eq!(service.answer_flat(pairs).expect("the flat form is answered"), answer);
    }
}

/// Programs that write all members of a type write null for what they leave out, and some an empty
/// list. Both are as good as nothing, for every member that may be left out, a name of the caller's own among them.
#[test]
fn null_and_an_empty_list_are_what_is_not_given() {
    for service in SERVICES.iter() {
        let example = example(service.name);
        let question = validator(&question_name(service.name));
        let answer = solve(service.name, &example).expect("an example is answered");
        for empty in [false, true] {
            let (mut document, mut added) = (example.clone(), 0);
            write_all(&mut document, &service.question, empty, &mut added);
            assert!(added > 1 || empty, "{}: {added} members were added", service.name);
            let faults: Vec<String> =
                question.iter_errors(&document).map(|fault| fault.to_string()).collect();
            assert!(faults.is_empty(), "{}: {faults:?}", service.name);
            assert_eq!(solve(service.name, &document).as_ref(), Ok(&answer), "{document}");
        }
    }
}

/// Adds null, or a list of nothing, for every member that `value` leaves out.
fn write_all(value: &mut Value, shape: &Shape, empty: bool, added: &mut usize) {
    let Some(shape) = shape.fitting(value) else { return };
    match (shape, value) {
        (Shape::List(entry, _), Value::Array(entries)) => {
            entries.iter_mut().for_each(|value| write_all(value, entry, empty, added));
        }
        (shape @ Shape::Record(named, others), Value::Object(members)) => {
            for (name, value) in members.iter_mut() {
                if let Some(member) = shape.member(name) {
                    write_all(value, member, empty, added);
                }
            }
            let nothing = |shape: &Shape| match shape {
                Shape::List(..) if empty => Some(json!([])),
                _ if empty => None,
                _ => Some(Value::Null),
            };
            for member in named.iter().filter(|member| !member.is_required) {
                if !members.contains_key(&member.name)
                    && let Some(nothing) = nothing(&member.shape)
                {
                    members.insert(member.name.clone(), nothing);
                    *added += 1;
                }
            }
            if others.is_some() && !empty {
                members.insert("not_measured".to_owned(), Value::Null);
            }
        }
        _ => {}
    }
}

#[test]
fn what_is_required_is_missing_where_it_is_null() {
    let mut document = example("top-up");
    document["units"] = Value::Null;
    document["sump"]["capacity"] = Value::Null;
    document["sump"]["reading"]["method"] = Value::Null;
    let problem = solve("top-up", &document).expect_err("much is missing");
    let missing: Vec<&str> = problem
        .errors
        .iter()
        .filter(|fault| fault.code == FaultCode::Missing)
        .map(|fault| fault.pointer.as_str())
        .collect();
    assert_eq!(missing, ["/sump/reading/method", "/sump/capacity", "/units"], "{problem:?}");
    assert_eq!(problem.errors.len(), 3, "{problem:?}");
}

#[test]
fn no_member_is_called_like_an_option_of_the_query() {
    for service in SERVICES.iter() {
        for option in QUERY_OPTIONS.into_iter().chain([ADDRESS_KEY, "columns", "headings_in_row"]) {
            assert!(service.question.member(option).is_none(), "{}: {option}", service.name);
        }
    }
}

/// The quick way of reading a document skips the schema, and the thorough one holds it against
/// shapes: both must refuse what a library finds against the schema, and the shapes pass what the
/// library passes.
#[test]
fn what_the_schema_says_of_a_document_a_library_says_too() {
    for service in SERVICES.iter() {
        let example = example(service.name);
        let question = validator(&question_name(service.name));
        let mut changed = Vec::new();
        worse(&example, &mut changed);
        let mut wrong = 0;
        for (i, document) in changed.iter().enumerate() {
            let is_valid = question.is_valid(document);
            // What is right is calculated, which takes its time: a tenth of it.
            if is_valid && i % 10 != 0 {
                continue;
            }
            let answered = solve(service.name, document);
            let kind = answered.as_ref().err().map_or("", |problem| problem.r#type.as_str());
            if is_valid {
                assert!(!kind.ends_with("malformed"), "{document}: {answered:?}");
                continue;
            }
            wrong += 1;
            assert!(kind.ends_with("malformed") || kind.ends_with("out-of-range"), "{document}");
            // What only serde finds, the shapes have missed.
            for fault in &answered.expect_err("it is refused").errors {
                assert_ne!(fault.code, FaultCode::WrongShape, "{document}: {fault:?}");
            }
        }
        assert!(wrong > 0, "{}", service.name);
    }
}

/// Variants of a document with a change at one place: a text empty or long, a number of another
/// type or far off, a list or an object emptied, a member too many or too few, an object turned
/// into a list.
fn worse(value: &Value, found: &mut Vec<Value>) {
    match value {
        Value::String(_) => found.extend([json!(""), json!("x".repeat(500)), json!(1), json!([])]),
        Value::Number(_) => found.extend([
            json!("1"),
            json!([1]),
            json!({}),
            json!(true),
            json!(null),
            json!(-1e300),
            json!(1e300),
            json!(0),
            json!(0.5),
        ]),
        Value::Array(entries) => {
            found.extend([json!([]), json!({}), json!([[]])]);
            for (i, entry) in entries.iter().enumerate() {
                let mut inner = Vec::new();
                worse(entry, &mut inner);
                found.extend(inner.into_iter().map(|changed| {
                    let mut entries = entries.clone();
                    entries[i] = changed;
                    Value::Array(entries)
                }));
            }
        }
        Value::Object(members) => {
            found.push(Value::Array(members.values().cloned().collect()));
            found.push(json!({}));
            let mut more = members.clone();
            more.insert("a b".to_owned(), json!(1));
            found.push(Value::Object(more));
            for (name, member) in members {
                let mut fewer = members.clone();
                fewer.remove(name);
                found.push(Value::Object(fewer));
                let mut inner = Vec::new();
                worse(member, &mut inner);
                found.extend(inner.into_iter().map(|changed| {
                    let mut members = members.clone();
                    members[name] = changed;
                    Value::Object(members)
                }));
            }
        }
        Value::Null | Value::Bool(_) => {}
    }
}

#[test]
fn us_units_get_the_same_answer() {
    for service in SERVICES.iter() {
        let example = example(service.name);
        let metric = solve(service.name, &example).expect("an example is answered");
        let us = solve(service.name, &in_us_units(service, &example)).expect("in US units too");
        assert_same_in_us_units(service, &metric, &us);
    }
}
