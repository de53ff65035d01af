//! Tables with one document per row, well and badly written by spreadsheets.

mod ends;
mod headings;
mod lists;
mod nasty;
mod room;
mod templates;
mod titles;

use crate::server::{header, request};
use crate::support::units::in_us_units;
use crate::{SERVICES, service, solve};
use csv::ByteRecord;
use serde_json::Value;
use std::fmt::Write as _;
use std::sync::Arc;
use sumpwright_openapi::flat;
use sumpwright_openapi::problem::Problem;
use sumpwright_openapi::table::{RowEnds, Table, TableOptions};

/// A table in, a table out, in one piece.
pub(crate) fn tabulate(
    name: &str,
    table: &[u8],
    options: &TableOptions,
) -> Result<Vec<u8>, Problem> {
    let service = Arc::clone(SERVICES.get(name).expect("a calculation"));
    let first = RowEnds::first(table).unwrap_or(table.len());
    let (headings, rows) = table.split_at(first);
    let table = Table::open(service, headings, rows, options)?;
    let mut out = table.heading();
    let mut ends = RowEnds::below(headings);
    let last = ends.last(rows).unwrap_or(0);
    let whole = if ends.is_open() { last } else { rows.len() };
    table.answer(&rows[..whole], &mut out);
    if ends.is_open() {
        table.answer_open(&rows[whole..], &mut out);
    }
    Ok(out)
}

pub(crate) fn everywhere(pairs: &[(&str, &str)]) -> TableOptions {
    let everywhere = pairs.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned()));
    TableOptions { everywhere: everywhere.collect(), ..TableOptions::default() }
}

/// The rows of a table.
pub(crate) fn rows(table: &[u8], separator: u8) -> Vec<ByteRecord> {
    let reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .from_reader(table)
        .into_byte_records();
    reader.map(|row| row.expect("a row")).collect()
}

/// A document as a table of one row.
fn as_table(document: &Value) -> Vec<u8> {
    let leaves = flat::flatten(document);
    let mut writer = csv::Writer::from_writer(Vec::new());
    writer.write_record(leaves.iter().map(|(path, _)| path.as_str())).expect("headings");
    writer.write_record(leaves.iter().map(|(_, leaf)| flat::leaf_text(leaf))).expect("a row");
    writer.into_inner().expect("a table")
}

fn cell<'a>(rows: &'a [ByteRecord], row: usize, heading: &str) -> &'a str {
    let column = rows[0].iter().position(|found| found == heading.as_bytes());
    let column = column.unwrap_or_else(|| panic!("no column {heading} in {:?}", rows[0]));
    std::str::from_utf8(&rows[row][column]).expect("text")
}

/// The flat form, a table and JSON say the same: every leaf of the answer to
/// every example, by every way and in both systems of units.
#[test]
fn a_table_answers_what_the_document_answers() {
    let services = SERVICES.iter().filter(|service| service.list().is_none());
    let asked = services.flat_map(|service| {
        let example: Value = serde_json::from_str(service.example).expect("JSON");
        [(service, in_us_units(service, &example)), (service, example)]
    });
    for (service, example) in asked {
        let answer = solve(service.name, &example).expect("the example is answered");
        let leaves = flat::flatten(&answer);
        let columns = |of: &dyn Fn(&str, &Value) -> bool| {
            let chosen = leaves.iter().filter(|(path, leaf)| of(path, leaf));
            chosen.map(|(path, _)| path.clone()).take(2000).collect::<Vec<String>>()
        };
        let all = columns(&|path, _| path.starts_with("answer.") || path.starts_with("balance."));
        // Where only numbers are wanted no sentence is made, which must change none of them.
        let numbers = columns(&|path, leaf| path.starts_with("answer.") && leaf.is_number());
        for columns in [all, numbers] {
            assert!(!columns.is_empty());
            let options =
                TableOptions { columns: Some(columns.clone()), ..TableOptions::default() };
            let answered = tabulate(service.name, &as_table(&example), &options).expect("a table");
            let answered = rows(&answered, b',');
            assert_eq!(cell(&answered, 1, "problem"), "", "{}", service.name);
            for path in columns {
                let expected = flat::leaf_text(flat::pick(&answer, &path).expect("a leaf"));
                let found = cell(&answered, 1, &path).trim_start_matches('\'');
                assert_eq!(found, expected, "{} of {}", path, service.name);
            }
        }
    }
}

/// A row of numbers alone that has no answer says why in words all the same.
#[test]
fn why_a_row_of_numbers_has_no_answer_is_said() {
    let table = "sump.capacity,sump.volume,sump.concentration,target.concentration\n50,60,5,8\n";
    let columns = Some(vec!["answer.drain".to_owned()]);
    let options = TableOptions { columns, ..everywhere(&[("units", "metric")]) };
    let answered = tabulate("top-up", table.as_bytes(), &options).expect("a table");
    let problem = cell(&rows(&answered, b','), 1, "problem").to_owned();
    assert!(problem.contains("fuller than full: 60 L in a capacity of 50 L"), "{problem}");
}

/// A table in US units, one in metric, and one with units in its headings.
#[test]
fn units_stand_in_a_column_in_the_query_or_in_the_headings() {
    let ask = |headings: &str, row: &str, units: &str| {
        let table = format!("{headings}\n{row}\n");
        let answered = tabulate("top-up", table.as_bytes(), &everywhere(&[("units", units)]));
        rows(&answered.expect("a table"), b',')
    };
    let plain = "sump.capacity,sump.volume,sump.concentration,target.concentration";
    let us = ask(plain, "50,40,5,8", "us");
    // 50·8 % − 40·5 % = 2 gallons of concentrate.
    let two = |rows: &[ByteRecord], row: usize, heading: &str| {
        let concentrate: f64 = cell(rows, row, heading).parse().expect("a number");
        assert!((concentrate - 2.0).abs() < 1e-12, "{concentrate}");
    };
    two(&us, 1, "answer.add.0.volume [gal_us]");
    let named =
        "sump.capacity [L],sump.volume [gal_us],sump.concentration [%],target.concentration";
    two(&ask(named, "189.2705892,40,5,8", "us"), 1, "answer.add.0.volume [gal_us]");
    let in_words = "Sump capacity (litres),SUMP.VOLUME [gal],sump concentration [% vol],\
                    Target Concentration [per cent]";
    two(&ask(in_words, "189.2705892,40,5,8", "us"), 1, "answer.add.0.volume [gal_us]");
    let rowwise = tabulate(
        "top-up",
        format!("units,{plain}\nus,50,40,5,8\nmetric,50,40,5,8\n").as_bytes(),
        &TableOptions::default(),
    );
    let rowwise = rows(&rowwise.expect("a table"), b',');
    two(&rowwise, 1, "answer.add.0.volume");
    two(&rowwise, 2, "answer.add.0.volume");
}

/// A heading in capitals names the member: US gallons stay gallons, and a sump that must
/// not be drained is not.
#[test]
fn a_capital_letter_switches_no_member_off() {
    let headings = "Units,sump.capacity,sump.volume,sump.reading.method,sump.reading.brix,\
                    sump.reading.factor,target.concentration,Draining";
    let row = "us,50,50,refractometer,3,1.25,6,not_allowed";
    let ask = |headings: &str| {
        let table = format!("{headings}\n{row}\n");
        rows(
            &tabulate("top-up", table.as_bytes(), &TableOptions::default()).expect("a table"),
            b',',
        )
    };
    let (plain, capitals) = (ask(&headings.to_lowercase()), ask(headings));
    assert_eq!(plain[1], capitals[1]);
    assert_eq!(cell(&capitals, 1, "answer.drain"), "0.0");
    assert_eq!(&capitals[0][0], b"Units", "the caller's columns are returned unchanged");
}

/// Each row is answered separately, so a table may be cut anywhere between rows.
#[test]
fn rows_are_answered_alike_in_any_pieces() {
    let mut text =
        String::from("machine,sump.capacity,sump.volume,sump.concentration,target.concentration\n");
    for i in 0..500 {
        let volume = f64::from(i) * 0.3;
        writeln!(text, "M{i},200,{volume},5,{}", 4.0 + f64::from(i) * 0.01).expect("text");
    }
    let (headings, rows) = text.split_at(RowEnds::first(text.as_bytes()).expect("headings"));
    let shared = Arc::clone(SERVICES.get("top-up").expect("there"));
    let options = everywhere(&[("units", "metric")]);
    let table = Table::open(shared, headings.as_bytes(), rows.as_bytes(), &options);
    let table = table.expect("a table");
    let (mut whole, mut pieces) = (Vec::new(), Vec::new());
    table.answer(rows.as_bytes(), &mut whole);
    for line in rows.split_inclusive('\n') {
        table.answer(line.as_bytes(), &mut pieces);
    }
    assert_eq!(whole, pieces);
}

/// Over HTTP, with more rows than fit any buffer, sent whole before anything is
/// read.
#[test]
fn a_long_table_goes_through_the_door_in_order() {
    let mut table =
        String::from("machine;sump.capacity;sump.volume;sump.concentration;target.concentration\n");
    for i in 0..60_000 {
        writeln!(table, "M{i};200;{},5;5;8", i % 200).expect("text");
    }
    let sent = table.len();
    let response =
        request("POST", "/v1/top-up?units=metric&columns=answer.drain,answer.add.0.volume")
            .header("content-type", "text/csv")
            .body(table)
            .send()
            .expect("an answer");
    assert_eq!(response.status(), 200);
    assert!(header(&response, "content-type").starts_with("text/csv"));
    let answered = response.bytes().expect("the whole answer");
    assert!(answered.len() > sent);
    let rows = rows(&answered, b';');
    assert_eq!(rows.len(), 60_001);
    for i in 0..60_000 {
        assert_eq!(cell(&rows, i + 1, "machine"), format!("M{i}"));
        assert_eq!(cell(&rows, i + 1, "problem"), "");
    }
    // 200 · 8 % − 0.5 · 5 %, with a comma because the table writes commas.
    assert_eq!(cell(&rows, 1, "answer.add.0.volume [L]"), "15,975");
}

#[test]
fn a_table_that_cannot_be_read_is_a_problem() {
    let send = |path: &str, kind: &str, body: &str| {
        let sent = request("POST", path).header("content-type", kind.to_owned());
        sent.body(body.to_owned()).send().expect("an answer")
    };
    let good = "sump.capacity,sump.volume,sump.concentration,target.concentration\n50,40,5,8\n";
    let asked = [
        ("/v1/top-up?units=us&pick=answer.drain", "text/csv", good, 400),
        ("/v1/top-up?units=us&columns=answer.nothing", "text/csv", good, 400),
        ("/v1/top-up?units=us&decimal=dot", "text/csv", good, 400),
        ("/v1/top-up?units=us&colour=red", "text/csv", good, 400),
        ("/v1/top-up?units=us", "text/csv; charset=utf-16", good, 415),
        ("/v1/top-up?units=us", "text/csv; header=absent", good, 415),
        ("/v1/top-up?units=us", "text/csv", "", 400),
        ("/v1/nothing?units=us", "text/csv", good, 404),
    ];
    for (path, kind, body, status) in asked {
        let response = send(path, kind, body);
        assert_eq!(response.status(), status, "{path} {kind}");
        assert_eq!(header(&response, "content-type"), "application/problem+json", "{path} {kind}");
    }
    let picky = request("POST", "/v1/top-up?units=us")
        .header("content-type", "text/csv")
        .header("accept", "application/json")
        .body(good)
        .send()
        .expect("an answer");
    assert_eq!(picky.status(), 406);
    assert_eq!(send("/v1/top-up?units=us", "text/csv; charset=utf-8", good).status(), 200);
}

/// Rows whose answers have more values than those of the first rows say so.
#[test]
fn an_answer_without_a_column_is_not_lost_in_silence() {
    let mut table =
        String::from("reading.method,reading.brix,reading.factor,band.low,band.target,band.high\n");
    table.push_str(&"refractometer,4.8,1.25,,,\n".repeat(300));
    table.push_str("refractometer,4.8,1.25,5.5,6.25,7\n");
    let answered = tabulate("concentration", table.as_bytes(), &everywhere(&[("units", "metric")]));
    let answered = rows(&answered.expect("a table"), b',');
    assert_eq!(cell(&answered, 300, "problem"), "");
    let said = cell(&answered, 301, "problem");
    assert!(said.contains("4 more values"), "{said}");
    assert_eq!(service("concentration").list(), None);
}
