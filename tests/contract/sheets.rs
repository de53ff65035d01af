//! Job sheets: which answers have one, and what every one of them holds.

use super::laws::{METRIC_WORDS, US_WORDS, foreign_words};
use crate::draws::{any_document, held, near, nearer, to_draw_from};
use crate::server::request;
use crate::{SERVICES, service, spec};
use proptest::prelude::*;
use std::cell::Cell;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_openapi::document::question_name;
use sumpwright_openapi::service::Service;
use sumpwright_openapi::sheet::SheetToDraw;

/// The calculations that say what somebody is to do.
fn with_sheets() -> impl Iterator<Item = &'static Service> {
    SERVICES.iter().map(AsRef::as_ref).filter(|service| service.has_sheet())
}

#[test]
fn what_is_done_by_hand_has_a_job_sheet_and_nothing_else_has() {
    let expected = [
        "concentration",
        "top-up",
        "top-up-round",
        "make-up",
        "forecast",
        "sump-state",
        "blend",
        "recycler",
        "recharge",
        "supplies",
        "condition",
        "dose",
        "test-plan",
        "calendar",
    ];
    let mut found: Vec<&str> = with_sheets().map(|service| service.name).collect();
    let mut expected = expected.to_vec();
    found.sort_unstable();
    expected.sort_unstable();
    assert_eq!(found, expected);
    let asked = request("POST", "/v1/losses").header("accept", "text/html");
    let asked = asked.header("content-type", "application/json").body(service("losses").example);
    assert_eq!(asked.send().expect("an answer").status(), 406);
}

#[test]
fn the_document_offers_a_page_where_there_is_a_sheet() {
    let spec = spec();
    for service in SERVICES.iter() {
        let answered = &spec["paths"][format!("/v1/{}", service.name)]["post"]["responses"]["200"];
        let answered = answered["$ref"].as_str().expect("a component");
        let content = &spec.pointer(&answered[1..]).expect("what is referred to")["content"];
        assert_eq!(content.get("text/html").is_some(), service.has_sheet(), "{}", service.name);
    }
}

/// Everything that a sheet says, in its units.
fn texts(drawn: &SheetToDraw) -> Vec<String> {
    let parts = drawn.sheet.parts.iter();
    let said =
        parts.flat_map(|part| part.heading.iter().chain(part.tasks.iter().map(|task| &task.text)));
    said.chain(&drawn.sheet.notes).map(|text| text.show(drawn.units)).collect()
}

/// Whatever is asked, a sheet has only parts with steps and steps with words, in the
/// caller's units; and it can be made of every answer.
#[test]
fn every_answer_makes_a_complete_sheet() {
    for service in with_sheets() {
        let example = to_draw_from(service);
        let questions = prop_oneof![
            any_document(&question_name(service.name)),
            near(&example),
            nearer(&example)
        ]
        .boxed();
        let answered = Cell::new(0);
        let result = held(300, questions, |question| {
            for (units, foreign) in [("metric", US_WORDS.as_slice()), ("us", &METRIC_WORDS)] {
                let mut question = question.clone();
                question["units"] = units.into();
                let bytes = question.to_string();
                let drawn = service.sheet(bytes.as_bytes());
                prop_assert_eq!(drawn.is_ok(), service.answer(bytes.as_bytes()).is_ok());
                let Ok(drawn) = drawn else { continue };
                answered.set(answered.get() + 1);
                prop_assert!(!drawn.statement.show(drawn.units).is_empty());
                prop_assert!(drawn.findings.is_sorted_by_key(|finding| finding.severity));
                prop_assert!(drawn.sheet.parts.iter().all(|part| !part.tasks.is_empty()));
                for text in texts(&drawn) {
                    let words = foreign_words(&text, foreign);
                    prop_assert!(words.is_empty(), "{units}: {text}");
                    prop_assert!(!text.trim().is_empty() && !text.contains("{}"), "{text:?}");
                }
            }
            Ok(())
        });
        result.unwrap_or_else(|error| panic!("{}: {error}", service.name));
        assert!(answered.get() > 20, "{}: {} were answered", service.name, answered.get());
    }
}

/// What an example's sheet says is what its answer says.
#[test]
fn the_sheets_of_the_examples_say_what_is_done() {
    let says = |name: &str| {
        let drawn = service(name).sheet(service(name).example.as_bytes()).expect("a sheet");
        assert_eq!(drawn.units, UnitSystem::Metric);
        texts(&drawn).join("\n")
    };
    let expected = [
        ("top-up", ["Pour 53.8 L of water into a clean vessel", "Stir 6.2 L of concentrate in"]),
        ("blend", ["Add 187 L of deionised water.", "it must be at 6 % by volume."]),
        ("recycler", ["all is clean by day 4, 13:06.", "Stir 18.4 L of concentrate B in slowly"]),
        ("forecast", ["Day 0 to 6: have 46", "fill it up with 46 L of premix at 2.7 %"]),
        ("concentration", ["Between 4.4 °Brix and 5.6 °Brix", "5 °Brix is the aim"]),
        ("make-up", ["L of water into a clean vessel", "L of concentrate in slowly"]),
        ("recharge", ["Trip 5: product B, 1 machine", "out 138 L, 45 kg of chips"]),
    ];
    for (name, phrases) in expected {
        let said = says(name);
        for phrase in phrases {
            assert!(said.contains(phrase), "{name}: no {phrase:?} in {said}");
        }
    }
}
