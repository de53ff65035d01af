//! Headings that are titles: the shop's name for a member instead of its path.

use super::{everywhere, rows, tabulate};
use crate::SERVICES;
use serde_json::Value;
use sumpwright_openapi::document::question_name;

/// A title instead of a name in the path, in any case, with the unit in words.
#[test]
fn a_heading_may_be_a_title() {
    let by_path = "sump.capacity,sump.volume,sump.concentration,target.concentration\n\
                   200,140,6,8\n";
    let by_title = "SUMP: capacity [litres],Sump volume,sump: Concentration,Target concentration\n\
                    200,140,6,8\n";
    let metric = everywhere(&[("units", "metric")]);
    let answered = |table: &str| {
        let told = tabulate("top-up", table.as_bytes(), &metric).expect("a table");
        rows(&told, b',')[1].clone()
    };
    assert_eq!(answered(by_path), answered(by_title));
}

/// In every question, each top-level member with a single value is found by its title, or
/// the heading is refused as ambiguous.
#[test]
fn every_title_of_a_question_heads_its_column() {
    let mut found = 0;
    for service in SERVICES.iter() {
        let spec = crate::spec();
        let question = &spec["components"]["schemas"][question_name(service.name)];
        let document = serde_json::from_str::<Value>(service.example).expect("JSON");
        let Some(document) = document.as_object() else { continue };
        for (name, value) in document.iter().filter(|(_, value)| value.is_number()) {
            let title = question["properties"][name]["title"].as_str().expect("a title");
            let text = value.to_string();
            let table = |heading: &str| {
                let table = format!("{heading}\n{text}\n");
                tabulate(service.name, table.as_bytes(), &everywhere(&[("units", "metric")]))
            };
            let (by_title, by_name) = (table(title), table(name));
            let last = |told: Vec<u8>| {
                let row = rows(&told, b',')[1].clone();
                row.get(row.len() - 1).map(<[u8]>::to_vec)
            };
            match by_title {
                Ok(told) => {
                    assert_eq!(last(told), by_name.map(last).expect("a table"), "{title}");
                    found += 1;
                }
                Err(problem) => assert_eq!(problem.errors[0].code.word(), "ambiguous", "{title}"),
            }
        }
    }
    assert!(found > 5, "only {found} titles were tried");
}

/// The statement of an answer is available as a cell, is a column before the answer's, and
/// is not allowed as a heading of the caller's.
#[test]
fn a_statement_has_a_column_of_its_own() {
    let answer = crate::solve("top-up", &crate::support::example("top-up")).expect("an answer");
    let statement = answer["statement"].as_str().expect("a statement");
    let table = super::as_table(&crate::support::example("top-up"));
    let told = tabulate("top-up", &table, &everywhere(&[])).expect("a table");
    let told = rows(&told, b',');
    assert_eq!(super::cell(&told, 1, "statement"), statement);
    assert_eq!(super::cell(&told, 1, "problem"), "");
    let place =
        |name: &str| told[0].iter().position(|heading| heading.starts_with(name.as_bytes()));
    assert!(place("statement") < place("answer."), "{:?}", told[0]);
    let own = b"units,Statement\nmetric,x\n";
    assert!(tabulate("top-up", own, &everywhere(&[])).is_err());
}
