//! Properties that hold for any question.

use crate::contract::assert_closes;
use crate::draws::{
    any_document, feasible_blend, feasible_top_up, held, near, nearer, to_draw_from,
};
use crate::support::units::{assert_same_in_us_units, in_us_units};
use crate::{SERVICES, service, solve};
use proptest::prelude::*;
use serde_json::Value;
use std::cell::Cell;
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::catalogue::{Catalogue, Everything, Visitor};
use sumpwright_engine::text::{Telling, telling};
use sumpwright_openapi::document::question_name;
use sumpwright_openapi::flat;

/// A thousand questions for each calculation, drawn from its schema and from
/// around its example: each is
/// answered with a balance that closes, or refused as the contract says.
#[test]
fn any_question_is_answered_with_a_closed_balance_or_refused() {
    for service in SERVICES.iter() {
        let answered = Cell::new(0);
        let example = to_draw_from(service);
        let questions = prop_oneof![
            any_document(&question_name(service.name)),
            near(&example),
            nearer(&example)
        ]
        .boxed();
        let result = held(1000, questions, |question| {
            match solve(service.name, &question) {
                Ok(record) => {
                    answered.set(answered.get() + 1);
                    assert_closes(&record);
                }
                Err(problem) => prop_assert_eq!(problem.status, 422, "{:?}: {}", problem, question),
            }
            Ok(())
        });
        result.unwrap_or_else(|error| panic!("{}: {error}", service.name));
        let answered = answered.get();
        assert!(answered > 30, "{}: only {answered} of 1000 were answered", service.name);
    }
}

/// Words of one system of units that no text may show to a caller using the other.
pub(super) const METRIC_WORDS: [&str; 12] =
    ["L", "kg", "kg/L", "°C", "mm", "m²", "L/day", "L/h", "L/min", "litres", "litre", "m/h"];
/// See [`METRIC_WORDS`].
pub(super) const US_WORDS: [&str; 6] = ["gal", "lb", "°F", "in²", "gallons", "gallon"];

/// The unit words of the wrong system in a text.
pub(super) fn foreign_words<'a>(text: &'a str, foreign: &[&str]) -> Vec<&'a str> {
    let words =
        text.split(|c: char| c.is_whitespace() || matches!(c, '.' | ',' | ';' | ':' | '(' | ')'));
    words.filter(|word| foreign.contains(word)).collect()
}

/// Every text of a calculation is in the caller's units.
#[test]
fn no_text_names_a_unit_of_the_other_system() {
    let mut failed: Vec<String> = Vec::new();
    for service in SERVICES.iter() {
        let example = to_draw_from(service);
        let questions =
            prop_oneof![any_document(&question_name(service.name)), near(&example)].boxed();
        // Calculations that give instructions are asked more often.
        let cases = if service.has_sheet() { 500 } else { 300 };
        let result = held(cases, questions, |question| {
            for (units, foreign) in [("metric", US_WORDS.as_slice()), ("us", &METRIC_WORDS)] {
                let mut question = question.clone();
                question["units"] = units.into();
                let said = match solve(service.name, &question) {
                    Ok(record) => record,
                    Err(problem) => serde_json::to_value(problem).expect("a problem is JSON"),
                };
                for (path, leaf) in flat::flatten(&said) {
                    let last = path.rsplit('.').next().unwrap_or_default();
                    if !matches!(last, "text" | "detail" | "statement") {
                        continue;
                    }
                    let found = foreign_words(leaf.as_str().unwrap_or_default(), foreign);
                    prop_assert!(found.is_empty(), "{units}: {path} says {found:?}: {leaf}");
                }
            }
            Ok(())
        });
        if let Err(error) = result {
            let said = error.to_string();
            failed.push(format!("{}: {}", service.name, said.lines().next().unwrap_or_default()));
        }
    }
    assert!(failed.is_empty(), "{}", failed.join("\n"));
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..Default::default() })]

    #[test]
    fn us_and_metric_agree_for_top_up(question in feasible_top_up()) {
        us_agrees("top-up", &question);
    }

    #[test]
    fn the_same_document_gets_the_same_bytes(question in feasible_blend()) {
        let document = question.to_string();
        let first = service("blend").answer(document.as_bytes()).expect("it can be made");
        prop_assert_eq!(first, service("blend").answer(document.as_bytes()).expect("again"));
    }

    #[test]
    fn documents_survive_the_flat_form(question in any_document("BlendQuestion")) {
        survives_the_flat_form("blend", &question);
    }

    #[test]
    fn top_ups_survive_the_flat_form(question in any_document("TopUpQuestion")) {
        survives_the_flat_form("top-up", &question);
    }

    /// The two ways of reading a document, straight through serde and as a tree
    /// by way of the schema, give the same answer to the last bit, in either system of units.
    #[test]
    fn the_quick_way_and_the_thorough_way_agree(question in any_document("TopUpQuestion")) {
        for units in ["metric", "us"] {
            let mut question = question.clone();
            question["units"] = units.into();
            let quick = service("top-up").answer(question.to_string().as_bytes());
            let thorough = service("top-up").answer_tree(question);
            match (quick, thorough) {
                (Ok(quick), Ok(thorough)) => {
                    let quick: Value = serde_json::from_slice(&quick).expect("JSON");
                    prop_assert_eq!(quick, thorough);
                }
                (quick, thorough) => prop_assert_eq!(quick.err(), thorough.err()),
            }
        }
    }
}

/// Questions around the example of each calculation, in US units, read both ways.
#[test]
fn us_units_are_read_alike_either_way() {
    for service in SERVICES.iter() {
        let example = to_draw_from(service);
        let result = held(60, near(&example).boxed(), |mut question| {
            question["units"] = "us".into();
            let bytes = service.answer(question.to_string().as_bytes());
            let bytes = bytes.map(|bytes| serde_json::from_slice::<Value>(&bytes).expect("JSON"));
            prop_assert_eq!(bytes, service.answer_tree(question));
            Ok(())
        });
        result.unwrap_or_else(|error| panic!("{}: {error}", service.name));
    }
}

fn us_agrees(name: &str, question: &Value) {
    let service = service(name);
    let metric = solve(name, question).expect("it can be done");
    let us = solve(name, &in_us_units(service, question)).expect("in US units too");
    // A volume of 0 in one system can be a rounding error in the other, which
    // decides whether there is a stream of it; both balances are closed.
    if metric["balance"]["streams"].as_array().map(Vec::len)
        == us["balance"]["streams"].as_array().map(Vec::len)
    {
        assert_same_in_us_units(service, &metric, &us);
    }
}

fn survives_the_flat_form(name: &str, question: &Value) {
    let leaves: Vec<(String, String)> = flat::flatten(question)
        .into_iter()
        .map(|(path, leaf)| (path, flat::leaf_text(leaf)))
        .collect();
    let pairs = leaves.iter().map(|(path, text)| (path.as_str(), text.as_str()));
    let again = flat::unflatten(pairs, &service(name).question).expect("it is a document");
    assert_eq!(&again, question);
}

/// Answers questions around each calculation's example with everything, with the answer alone
/// and with its numbers alone.
struct Told;

impl Visitor for Told {
    fn visit<C: Calculation>(&mut self) {
        let example = to_draw_from(service(C::NAME));
        let result = held(60, near(&example).boxed(), |question| {
            let mut question = question;
            let members = question.as_object_mut().expect("an object");
            members.retain(|name, _| name != "units" && name != "reference");
            let Ok(question) = serde_json::from_value::<C>(question) else { return Ok(()) };
            let ask = |much| telling(much, || question.calculate());
            let [numbers, answer, record] =
                [Telling::Numbers, Telling::Answer, Telling::Record].map(ask);
            let (Ok(numbers), Ok(answer), Ok(record)) = (&numbers, &answer, &record) else {
                let kinds = [&numbers, &answer, &record].map(|told| {
                    told.as_ref().err().map(|refusal| (refusal.kind, refusal.faults.len()))
                });
                prop_assert!(kinds[0] == kinds[2] && kinds[1] == kinds[2], "{:?}", kinds);
                return Ok(());
            };
            let json = |answer: &C::Answer| serde_json::to_value(answer).expect("it is written");
            prop_assert_eq!(numbers_of(&json(&numbers.answer)), numbers_of(&json(&record.answer)));
            prop_assert!(numbers.findings.is_empty());
            prop_assert_eq!(json(&answer.answer), json(&record.answer));
            prop_assert_eq!(&answer.findings, &record.findings);
            prop_assert_eq!(&answer.cautions, &record.cautions);
            for told in [numbers, answer] {
                prop_assert!(told.assumptions.is_empty());
                prop_assert_eq!(told.balance.is_some(), record.balance.is_some());
                if let Some((brief, whole)) = told.balance.as_ref().zip(record.balance.as_ref()) {
                    prop_assert!(brief.streams.is_empty() && !whole.streams.is_empty());
                    prop_assert_eq!(&brief.residual, &whole.residual);
                }
            }
            Ok(())
        });
        result.unwrap_or_else(|error| panic!("{}: {error}", C::NAME));
    }
}

/// Every number in a document, in order.
fn numbers_of(document: &Value) -> Vec<f64> {
    match document {
        Value::Number(number) => number.as_f64().into_iter().collect(),
        Value::Array(entries) => entries.iter().flat_map(numbers_of).collect(),
        Value::Object(members) => members.values().flat_map(numbers_of).collect(),
        _ => Vec::new(),
    }
}

#[test]
fn how_much_is_told_changes_no_number_and_no_refusal() {
    Everything.show(&mut Told);
}
