//! The promises of the README.

use super::tidy::root;
use crate::server::request;
use crate::service;
use serde_json::Value;
use std::path::Path;

const README: &str = include_str!("../../README.md");
const RECORD: &str = include_str!("../../examples/record.md");
const SPREADSHEETS: &str = include_str!("../../examples/README.md");

/// The fenced blocks of one language on a page, in order.
fn blocks(page: &'static str, language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    let parts = page.split(fence.as_str()).skip(1);
    parts.filter_map(|part| part.split_once("```").map(|(block, _)| block)).collect()
}

/// The address that a page's request asks at the usual place, and its document.
fn asked(page: &'static str) -> (&'static str, &'static str) {
    let request = blocks(page, "sh").into_iter().find(|block| block.contains("-d '"));
    let (before, rest) = request.and_then(|block| block.split_once("-d '")).expect("a request");
    let (_, address) = before.split_once("http://127.0.0.1:8787").expect("the usual address");
    let (body, _) = rest.split_once('\'').expect("a body in quotes");
    (address.split([' ', '\'']).next().expect("a path"), body)
}

fn json(page: &'static str) -> Value {
    serde_json::from_str(blocks(page, "json")[0]).expect("the printed answer is JSON")
}

#[test]
fn the_record_is_what_its_request_gets() {
    let (address, body) = asked(RECORD);
    assert_eq!(address, "/v1/top-up");
    let answered = service("top-up").answer(body.as_bytes()).expect("it is answered");
    let answered: Value = serde_json::from_slice(&answered).expect("JSON");
    assert_eq!(json(RECORD), answered);
}

/// Whether all that a part holds stands in the whole as well.
fn is_in(part: &Value, whole: &Value) -> bool {
    match (part, whole) {
        (Value::Object(part), Value::Object(whole)) => part
            .iter()
            .all(|(name, value)| whole.get(name).is_some_and(|whole| is_in(value, whole))),
        (part, whole) => part == whole,
    }
}

#[test]
fn what_the_front_page_prints_of_an_answer_is_in_it() {
    let (address, body) = asked(README);
    let sent = request("POST", address).header("content-type", "application/json");
    let answered = sent.body(body).send().expect("the server answers");
    let answered: Value = answered.json().expect("JSON");
    assert!(is_in(&json(README), &answered), "{answered:#}");
    assert!(!is_in(&serde_json::json!({ "answer": { "drain": 1 } }), &answered));
    assert_eq!(asked(RECORD).1, body, "the record is of another request");
}

#[test]
fn the_commands_are_those_that_it_takes() {
    let commands = blocks(README, "sh").concat();
    assert!(commands.contains("cargo run --release"));
    assert!(commands.contains("cargo test --workspace"));
    assert!(README.contains("cargo install --path api/server"));
}

#[test]
fn the_calculations_without_pictures_are_named() {
    let (_, of_pictures) = README.split_once("**Pictures**").expect("pictures");
    let (of_pictures, _) = of_pictures.split_once(": ask").expect("a list");
    for service in crate::SERVICES.iter() {
        let named = of_pictures.contains(&format!("`{}`", service.name));
        assert_eq!(named, !service.has_pictures(), "{}", service.name);
    }
}

/// The places that a page links to or shows.
fn links(text: &str) -> impl Iterator<Item = &str> {
    let places = text.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    places.filter(|place| !place.starts_with("http"))
}

#[test]
fn every_link_of_a_page_leads_somewhere() {
    let headings = |text: &str| {
        let headings =
            text.lines().filter_map(|line| Some(line.strip_prefix('#')?.trim_matches('#')));
        headings.map(|heading| heading.trim().to_lowercase().replace(' ', "-")).collect::<Vec<_>>()
    };
    let mut followed = 0;
    for page in [
        "README.md",
        "DEVELOPERS.md",
        "examples/README.md",
        "examples/record.md",
        "examples/plant/README.md",
        "api/deploy/README.md",
    ] {
        let at = root().join(page);
        let text = std::fs::read_to_string(&at).expect("a page");
        for link in links(&text) {
            let (file, part) = link.split_once('#').map_or((link, None), |(f, p)| (f, Some(p)));
            let target = at.parent().expect("a folder").join(file);
            let target = if file.is_empty() { at.clone() } else { target };
            assert!(target.exists(), "{page} links to {link}");
            if let Some(part) = part {
                let text = std::fs::read_to_string(&target).expect("a page");
                assert!(headings(&text).iter().any(|heading| heading == part), "{page}: {link}");
            }
            followed += 1;
        }
    }
    assert!(followed > 20, "only {followed} links were found");
}

#[test]
fn the_pictures_of_the_front_page_load_fast() {
    let shown =
        links(README).filter(|place| Path::new(place).extension().is_some_and(|e| e == "png"));
    let lengths =
        shown.map(|place| std::fs::metadata(root().join(place)).expect("a picture").len());
    let lengths: Vec<u64> = lengths.collect();
    assert_eq!(lengths.len(), 2, "the page and the workbook");
    assert!(lengths.iter().sum::<u64>() < 150_000, "{lengths:?}");
}

#[test]
fn every_calculation_is_listed() {
    for service in crate::SERVICES.iter() {
        assert!(README.contains(&format!("`{}`", service.name)), "{} is not listed", service.name);
    }
}

/// The address in a cell of the page, with numbers in place of the cells it names.
fn asked_by_cell(formula: &str, numbers: [&str; 3]) -> String {
    let one_line: String = formula.lines().map(str::trim_start).collect();
    let address =
        one_line.split_once("SUBSTITUTE(").and_then(|(_, rest)| rest.split_once(",\",\""));
    let (address, _) = address.expect("an address");
    let numbered = ["B2", "C2", "D2"].into_iter().zip(numbers);
    let address =
        numbered.fold(address.to_owned(), |text, (cell, number)| text.replace(cell, number));
    address.replace("\"&", "").trim_matches('"').to_owned()
}

#[test]
fn the_cells_of_the_spreadsheet_page_get_a_number() {
    let cells = SPREADSHEETS.split("```text\n=").skip(1);
    let cells: Vec<&str> =
        cells.filter_map(|cell| cell.split_once("```").map(|(cell, _)| cell)).collect();
    assert_eq!(cells.len(), 2);
    for (cell, units) in cells.into_iter().zip(["units=metric", "units=us"]) {
        let address = asked_by_cell(cell, ["200", "140", "5.6"]);
        assert!(address.contains(units), "{address}");
        let path = address.strip_prefix("http://127.0.0.1:8787");
        let answer = crate::server::get(path.expect("the usual address")).text().expect("text");
        // The front page's sump: 6.2 of concentrate, in whatever unit.
        crate::assert_near(answer.parse().expect("a number"), 6.2, 1e-12);
    }
}

#[test]
fn the_table_of_the_spreadsheet_page_goes_through_in_both_units() {
    let table = include_str!("../../examples/readings.csv");
    let asked = SPREADSHEETS.split("'http://127.0.0.1:8787").skip(1);
    let asked: Vec<&str> = asked.filter_map(|rest| rest.split_once('\'').map(|(a, _)| a)).collect();
    assert_eq!(asked.len(), 2);
    let answers = asked.iter().map(|path| {
        let sent = crate::server::request("POST", path).header("content-type", "text/csv");
        sent.body(table).send().expect("an answer").text().expect("a table")
    });
    let answers: Vec<String> = answers.collect();
    assert!(answers[0].contains("answer.add.0.volume [L]"), "{}", answers[0]);
    assert!(answers[1].contains("answer.add.0.volume [gal_us]"), "{}", answers[1]);
    for answer in answers {
        assert_eq!(answer.lines().count(), table.lines().count());
        assert_eq!(answer.matches("It is fuller than full").count(), 1);
    }
}

#[test]
fn the_lines_of_the_spreadsheet_page_are_the_sumps_of_its_table() {
    let lines = include_str!("../../examples/shop.ndjson");
    let asked = crate::server::request("POST", "/v1/top-up").header("prefer", "return=minimal");
    let asked = asked.header("content-type", "application/x-ndjson").body(lines);
    let answered = asked.send().expect("an answer").text().expect("lines");
    let table = include_str!("../../examples/readings.csv");
    let names = table.lines().skip(1).map(|row| row.split(',').next().unwrap_or_default());
    assert_eq!(answered.lines().count(), names.clone().count());
    let mut refused = 0;
    for (line, name) in answered.lines().zip(names) {
        let answer: Value = serde_json::from_str(line).expect("JSON");
        assert_eq!(answer["reference"], name);
        assert!(answer["statement"].is_string() || answer["status"] == 422, "{line}");
        refused += usize::from(answer["status"] == 422);
    }
    assert_eq!(refused, 1);
}
