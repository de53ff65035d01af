//! The promises of the README.

use crate::service;
use serde_json::Value;

const README: &str = include_str!("../../README.md");

/// The fenced blocks of one language, in order.
fn blocks(language: &str) -> Vec<&'static str> {
    let fence = format!("```{language}\n");
    let parts = README.split(fence.as_str()).skip(1);
    parts.filter_map(|part| part.split_once("```").map(|(block, _)| block)).collect()
}

#[test]
fn the_request_gets_the_answer_printed_beneath_it() {
    let request = blocks("sh").into_iter().find(|block| block.contains("-d '")).expect("a request");
    let body = request.split_once("-d '").and_then(|(_, rest)| rest.split_once('\''));
    let (body, _) = body.expect("a body in quotes");
    let answered = service("top-up").answer(body.as_bytes()).expect("it is answered");
    let answered: Value = serde_json::from_slice(&answered).expect("JSON");
    let printed: Value =
        serde_json::from_str(blocks("json")[0]).expect("the printed answer is JSON");
    assert_eq!(printed, answered);
}

#[test]
fn the_commands_are_the_two_that_it_takes() {
    let commands = blocks("sh").concat();
    assert!(commands.contains("cargo run --release"));
    assert!(commands.contains("cargo test --workspace"));
}

#[test]
fn every_calculation_is_listed() {
    for service in crate::SERVICES.iter() {
        assert!(README.contains(&format!("`{}`", service.name)), "{} is not listed", service.name);
    }
}

const SPREADSHEETS: &str = include_str!("../../examples/README.md");

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
        assert_eq!(answer.matches("The sump is fuller than full").count(), 1);
    }
}
