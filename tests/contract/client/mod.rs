//! The client gives the same answers as the engine, over HTTP and in its own process, for one
//! document or a whole sheet.

mod cells;
mod files;
mod headings;
mod lines;
mod logs;
mod messages;
mod new_sheet;
mod templates;
mod text;

use crate::server::address;
use crate::solve;
use clap::Parser;
use serde_json::Value;
use std::fmt::Write as _;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::TcpListener;
use std::path::Path;
use sumpwright_client::command_line::ClientCommandLine;
use sumpwright_client::sheet::{Cell, Sheet, Source};
use sumpwright_client::{Client, Error, Request, Server};
use sumpwright_engine::calculation::Calculation;
use sumpwright_engine::catalogue::{Catalogue, Everything, Visitor};
use sumpwright_openapi::table::TableOptions;

fn over_http() -> Client {
    Client::of(Server::new(address(), None, 0).expect("a client"))
}

/// A table, complete or not, gets the same answer in this process and from a server.
#[test]
fn a_table_is_answered_alike_here_and_by_a_server() {
    let row = "metric,refractometer,6,1.25,a\n";
    let head = "units,reading.method,reading.brix,reading.factor,machine\n";
    for (last, open) in
        [("metric,refractometer,5,1.25,b", false), ("metric,refractometer,5,1.25,\"b", true)]
    {
        let table = format!("{head}{row}{last}");
        let answers = [Client::in_process(), over_http()].map(|client| {
            let options = TableOptions::default();
            let answered = client.solve_table("concentration", table.as_bytes(), &options);
            String::from_utf8(answered.expect("a table")).expect("text")
        });
        assert_eq!(answers[0], answers[1]);
        assert_eq!(answers[0].contains("is not closed"), open, "{}", answers[0]);
        assert_eq!(answers[0].lines().count(), 3, "{}", answers[0]);
    }
}

struct Examples {
    clients: [Client; 2],
}

impl Visitor for Examples {
    fn visit<C: Calculation>(&mut self) {
        let request: Request<C> = serde_json::from_str(C::EXAMPLE).expect("the example is typed");
        let example: Value = serde_json::from_str(C::EXAMPLE).expect("JSON");
        let expected = solve(C::NAME, &example).expect("the example is answered");
        for client in &self.clients {
            let record =
                client.solve(&request).unwrap_or_else(|error| panic!("{}: {error}", C::NAME));
            let record = serde_json::to_value(record).expect("JSON");
            assert_eq!(record, expected, "{}", C::NAME);
        }
    }
}

#[test]
fn every_calculation_is_asked_by_its_own_type_here_and_over_http() {
    Everything.show(&mut Examples { clients: [Client::in_process(), over_http()] });
}

#[test]
fn a_problem_is_an_error_with_its_sentence() {
    for client in [Client::in_process(), over_http()] {
        let document = br#"{"units":"metric","sump":{"capacity":5,"volume":6}}"#;
        let error = client.solve_document("top-up", document).expect_err("it contradicts itself");
        let Error::Problem(problem) = error else { panic!("{error}") };
        assert_eq!(problem.status, 400);
        assert!(!problem.errors.is_empty());
        let error = client.solve_document("topup", b"{}").expect_err("no such calculation");
        assert!(error.to_string().contains("Did you mean \"top-up\"?"), "{error}");
    }
}

/// A file as a spreadsheet shows it: its headings, and the cells below them.
#[derive(Debug, PartialEq)]
struct Shown {
    headings: Vec<String>,
    rows: Vec<Vec<Cell>>,
}

impl Shown {
    fn read(file: &Path) -> Self {
        Self::of(&Sheet::read(file, None, None).expect("it can be read"))
    }

    fn of(sheet: &Sheet) -> Self {
        let commas = sheet.notation().dialect.separator == b';';
        let typed = |cell: &Cell| match cell {
            Cell::Text(text) if matches!(sheet.source, Source::Text(_)) => {
                Cell::typed(text, commas)
            }
            cell => cell.clone(),
        };
        let rows = sheet.rows.iter().map(|row| row.cells.iter().map(typed).collect());
        Self { headings: sheet.headings.clone(), rows: rows.collect() }
    }

    /// The cell of a row below a heading.
    fn cell(&self, row: usize, heading: &str) -> &Cell {
        let column = self.headings.iter().position(|own| own == heading);
        let column = column.unwrap_or_else(|| panic!("no {heading} in {:?}", self.headings));
        self.rows[row].get(column).unwrap_or(&Cell::Blank)
    }

    /// What is wrong with a row.
    fn problem(&self, row: usize) -> String {
        self.cell(row, "problem").text().into_owned()
    }
}

const TABLE: &str = "machine,sump.capacity,sump.volume,sump.concentration,target.concentration\n";

/// Runs the program as a person would, and returns the number of rows that failed.
fn rows(arguments: &[&str], input: &Path, output: &Path) -> usize {
    let files = [input.to_str().expect("a path"), "-o", output.to_str().expect("a path")];
    let words = ["sumpwright-client", "rows", "top-up"].iter().chain(&files).chain(arguments);
    ClientCommandLine::parse_from(words).run().expect("it runs")
}

#[test]
fn rows_of_a_sheet_are_answered_alike_in_every_file_and_by_either_way() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let mut table = TABLE.to_owned();
    let mut workbook = rust_xlsxwriter::Workbook::new();
    let notes = workbook.add_worksheet().set_name("notes").expect("a name");
    notes.write_string(0, 0, "nothing here").expect("a cell");
    let page = workbook.add_worksheet().set_name("sumps").expect("a name");
    for (column, heading) in (0..).zip(TABLE.trim_end().split(',')) {
        page.write_string(0, column, heading).expect("a heading");
    }
    for i in 0..700_u32 {
        let (volume, name) = (f64::from(i) * 0.4, format!("=M{i}"));
        writeln!(table, "{name},200,{volume},5,8").expect("text");
        page.write_string(i + 1, 0, name).expect("a cell");
        for (column, number) in (1..).zip([200.0, volume, 5.0, 8.0]) {
            page.write_number(i + 1, column, number).expect("a cell");
        }
    }
    std::fs::write(at("sumps.csv"), table).expect("a file");
    workbook.save(at("sumps.xlsx")).expect("a file");

    // From 500 on the sump is fuller than its 200 L.
    let failed = 700 - 501;
    let metric = ["--units", "metric"];
    assert_eq!(rows(&metric, &at("sumps.csv"), &at("a.csv")), failed);
    let by_http = [&metric[..], &["--server", address()]].concat();
    assert_eq!(rows(&by_http, &at("sumps.csv"), &at("b.csv")), failed);
    let by_name = [&metric[..], &["--sheet", "sumps", "--at-once", "2"]].concat();
    assert_eq!(rows(&by_name, &at("sumps.xlsx"), &at("c.xlsx")), failed);
    let us = [&by_http[2..], &["--set", "units=us"]].concat();
    assert_eq!(rows(&us, &at("sumps.csv"), &at("d.xlsx")), failed);

    let read = |name: &str| Shown::read(&at(name));
    let (a, b, c, d) = (read("a.csv"), read("b.csv"), read("c.xlsx"), read("d.xlsx"));
    assert_eq!(a, b);
    assert_eq!(a.headings, c.headings);
    assert_eq!(a.rows.len(), 700);
    assert_eq!(d.rows.len(), 700);
    let add = a.headings.iter().position(|heading| heading == "answer.add.0.volume [L]");
    let add = add.expect("a column");
    for (i, (a, c)) in a.rows.iter().zip(&c.rows).enumerate() {
        assert_eq!(c[0], Cell::Text(format!("=M{i}")), "in order, and as it came");
        // A spreadsheet would execute the same in a CSV file.
        assert_eq!(a[0], Cell::Text(format!("'=M{i}")), "disarmed");
        assert_eq!(a[add], c[add]);
        assert_eq!(a.last() != Some(&Cell::Blank), i > 500);
    }
    // 200 · 8 % of concentrate into an empty sump.
    assert_eq!(a.rows[0][add], Cell::Number(16.0));
    assert!(d.headings.contains(&"answer.add.0.volume [gal_us]".to_owned()));
}

/// LibreOffice wrote `readings.ods` from `readings.csv` (`examples/workbook/make.py`).
#[test]
fn readings_in_an_ods_are_answered_like_the_same_readings_in_a_csv() {
    let folder = tempfile::tempdir().expect("a folder");
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../examples");
    let answers = |file: &str| {
        let output = folder.path().join(format!("{file}.csv"));
        assert_eq!(rows(&["--units", "metric"], &examples.join(file), &output), 1, "{file}");
        Shown::read(&output)
    };
    let (csv, ods) = (answers("readings.csv"), answers("readings.ods"));
    assert_eq!(csv, ods);
    assert_eq!(csv.rows.len(), 5);
    let add = csv.headings.iter().position(|heading| heading == "answer.add.0.volume [L]");
    // The front page's sump, which is the third: 6.2 L of concentrate.
    let Cell::Number(concentrate) = ods.rows[2][add.expect("a column")] else {
        panic!("no number: {:?}", ods.rows[2]);
    };
    crate::assert_near(concentrate, 6.2, 1e-12);
}

#[test]
fn a_file_that_cannot_be_read_or_written_is_told_in_words() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    std::fs::write(at("sumps.csv"), TABLE).expect("a file");
    std::fs::write(at("sumps.doc"), "").expect("a file");
    rust_xlsxwriter::Workbook::new().save(at("sumps.xlsx")).expect("a file");
    let words = |file: &str, output: &str, more: &str| {
        let output = folder.path().join(output);
        let arguments = ["sumpwright-client", "rows", "top-up", file, "-o"];
        let output = output.to_str().expect("a path");
        let arguments = arguments.iter().copied().chain([output]).chain(more.split_whitespace());
        ClientCommandLine::parse_from(arguments).run().expect_err("it cannot").to_string()
    };
    let path = |name: &str| at(name).to_str().expect("a path").to_owned();
    std::fs::write(at("sumps.xls"), "").expect("a file");
    for old in ["sumps.doc", "sumps.xls"] {
        let said = words(&path(old), "out.csv", "");
        assert!(said.contains(old) && said.contains("save it as .xlsx or .csv"), "{said}");
    }
    let said = words(&path("sumps.xlsx"), "out.csv", "--sheet other");
    assert!(said.contains("has no sheet \"other\". It has Sheet1."), "{said}");
    assert!(words(&path("sumps.csv"), "out.csv", "--sheet other").contains("has no sheets"));
    assert!(words(&path("sumps.csv"), "out.ods", "").contains("not written as .ods"));
}

/// A log is one document: its answer has one name and one value per line, either way.
#[test]
fn a_log_in_a_sheet_has_one_answer() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let log = "day,volume,concentration\n0,200,7\n2,176,7.3\n4,152,7.7\n6,128,8.1\n8,104,8.7\n";
    std::fs::write(at("log.csv"), log).expect("a file");
    let run = |output: &str, more: &[&str]| {
        let (input, output) = (at("log.csv"), at(output));
        let files = [input.to_str().expect("a path"), "-o", output.to_str().expect("a path")];
        let words = ["sumpwright-client", "rows", "losses"].iter().chain(&files).chain(more);
        let failed = ClientCommandLine::parse_from(words).run().expect("it runs");
        assert_eq!(failed, 0);
        Shown::read(&output)
    };
    let around = ["--units", "metric", "--set", "sump.capacity=200"];
    let here = run("a.csv", &around);
    let there = run("b.csv", &[&around[..], &["--server", address()]].concat());
    assert_eq!(here, there);
    assert_eq!(here.headings, ["name", "value"]);
    let names = |sheet: &Shown| sheet.rows.iter().map(|row| row[0].clone()).collect::<Vec<_>>();
    assert!(names(&here).contains(&Cell::Text("answer.evaporation.value".to_owned())));
}

/// A server that is too busy at first is asked again after the time it names; the client
/// gives up on one that stays too busy.
#[test]
fn a_busy_server_is_asked_again() {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let busy = format!("http://{}", listener.local_addr().expect("an address"));
    let server = std::thread::spawn(move || {
        let answers = [
            "HTTP/1.1 503 Service Unavailable\r\nRetry-After: 0\r\nContent-Length: 0\r\n\r\n",
            "HTTP/1.1 429 Too Many Requests\r\nRetry-After: 1\r\nContent-Length: 0\r\n\r\n",
            "HTTP/1.1 200 OK\r\nContent-Length: 2\r\n\r\n{}",
            "HTTP/1.1 503 Service Unavailable\r\nRetry-After: 0\r\nContent-Length: 0\r\n\r\n",
            "HTTP/1.1 503 Service Unavailable\r\nRetry-After: 0\r\nContent-Length: 0\r\n\r\n",
        ];
        let mut keys = Vec::new();
        for answer in answers {
            let (mut connection, _) = listener.accept().expect("a call");
            let mut reader = BufReader::new(connection.try_clone().expect("a reader"));
            let (mut length, mut line) = (0, String::new());
            while reader.read_line(&mut line).expect("a line") > 2 {
                let lower = line.to_lowercase();
                if let Some(said) = lower.strip_prefix("content-length:") {
                    length = said.trim().parse().expect("a number");
                }
                keys.extend(lower.strip_prefix("authorization:").map(|key| key.trim().to_owned()));
                line.clear();
            }
            reader.read_exact(&mut vec![0; length]).expect("the body");
            let answer = answer.replacen("\r\n\r\n", "\r\nConnection: close\r\n\r\n", 1);
            connection.write_all(answer.as_bytes()).expect("it is sent");
        }
        keys
    });
    let client =
        |retries| Client::of(Server::new(&busy, Some("k".to_owned()), retries).expect("a client"));
    let began = std::time::Instant::now();
    assert_eq!(client(3).solve_document("top-up", b"{}").expect("at last"), b"{}");
    assert!(began.elapsed().as_millis() >= 1000, "it waits as long as the server asks");
    assert!(client(1).solve_document("top-up", b"{}").is_err());
    assert_eq!(server.join().expect("it served"), ["bearer k"; 5]);
}
