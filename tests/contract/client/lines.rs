//! A file of documents is answered line by line, here and by a server.

use super::messages::request;
use super::over_http;
use clap::Parser;
use std::cell::RefCell;
use std::io::Write;
use std::net::TcpListener;
use std::path::Path;
use sumpwright_client::command_line::ClientCommandLine;
use sumpwright_client::lines::{AnsweredLines, ask};
use sumpwright_client::{Client, Error, Extent, Server};

const SHOP: &str = include_str!("../../../examples/shop.ndjson");

/// A blank line, a document without an answer, and the shop of the example, in which one of
/// five has none, over and over until there are more lines than are asked together.
fn documents() -> (String, AnsweredLines) {
    let shop: Vec<&str> = SHOP.lines().collect();
    let mut lines = vec!["", "{\"units\": \"metric\"}"];
    lines.extend(shop.iter().cycle().take(2_400));
    (lines.join("\n"), AnsweredLines { asked: 2_401, failed: 1 + 2_400 / 5 })
}

#[test]
fn each_line_is_answered_in_its_place_here_and_by_a_server() {
    let (documents, expected) = documents();
    for extent in [Extent::Record, Extent::Minimal] {
        let answers = [Client::in_process(), over_http()].map(|client| {
            let answers = RefCell::new(Vec::new());
            let answered =
                ask(&client, "top-up", extent, documents.as_bytes(), || Ok(Into(&answers)));
            assert_eq!(answered.expect("it is answered"), expected);
            String::from_utf8(answers.into_inner()).expect("text")
        });
        assert_eq!(answers[0], answers[1]);
        let lines: Vec<&str> = answers[0].lines().collect();
        assert_eq!(lines.len(), 2_402);
        assert_eq!(lines[0], "");
        assert!(lines[1].contains("\"status\":400"), "{}", lines[1]);
        assert_eq!(lines[2].contains("\"assumptions\""), extent == Extent::Record);
        assert_eq!(lines[2], lines[2 + SHOP.lines().count()]);
    }
}

/// Writes into a list of bytes.
struct Into<'a>(&'a RefCell<Vec<u8>>);

impl Write for Into<'_> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.0.borrow_mut().write(bytes)
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

/// A line that no server takes has a problem in its place, and the next ones are answered.
#[test]
fn a_line_that_is_too_long_stands_in_nobodys_way() {
    let long = format!("{{\"reference\": \"{}\"}}", "x".repeat(9 << 20));
    let documents = format!("{}\n{long}\n{SHOP}", SHOP.trim_end());
    let answers = RefCell::new(Vec::new());
    let told =
        ask(&over_http(), "top-up", Extent::Minimal, documents.as_bytes(), || Ok(Into(&answers)));
    assert_eq!(told.expect("it is answered"), AnsweredLines { asked: 11, failed: 3 });
    let answers = String::from_utf8(answers.into_inner()).expect("text");
    let refused = answers.lines().nth(5).expect("a line");
    assert!(refused.contains("\"status\":413"), "{refused}");
}

/// A server that ends its answers early says why in the last line, and that is told.
#[test]
fn why_a_server_answers_no_more_lines_is_told() {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = format!("http://{}", listener.local_addr().expect("an address"));
    let why = crate::service("top-up").answer(b"{}").expect_err("nothing is asked");
    let line = serde_json::to_string(&why).expect("JSON") + "\n";
    std::thread::spawn(move || {
        let (mut connection, _) = listener.accept().expect("a call");
        request(&connection);
        let head = format!("HTTP/1.1 200 OK\r\ncontent-length: {}\r\n\r\n", line.len());
        connection.write_all((head + &line).as_bytes()).expect("it is sent");
    });
    let client = Client::of(Server::new(&address, None, 0).expect("an address"));
    let answers = RefCell::new(Vec::new());
    let told = ask(&client, "top-up", Extent::Record, SHOP.as_bytes(), || Ok(Into(&answers)));
    let told = told.expect_err("four lines have no answer").to_string();
    assert_eq!(told, Error::from(why).to_string());
}

/// Nothing is written over where nobody answers.
#[test]
fn a_file_stays_where_nobody_answers() {
    let folder = tempfile::tempdir().expect("a folder");
    let [shop, answers] = ["shop.ndjson", "answers.ndjson"].map(|name| folder.path().join(name));
    std::fs::write(&shop, SHOP).expect("a file");
    std::fs::write(&answers, "kept").expect("a file");
    let free = TcpListener::bind("127.0.0.1:0").expect("a port").local_addr().expect("its address");
    let server = format!("http://{free}");
    let to = answers.to_str().expect("a path");
    let nobody = run(&["-o", to, "--force", "--server", &server, "--retries", "0"], &shop);
    assert!(nobody.expect_err("nobody listens").starts_with("Nobody answers at "));
    assert_eq!(std::fs::read_to_string(&answers).expect("it is there"), "kept");
}

fn run(words: &[&str], file: &Path) -> Result<usize, String> {
    let file = file.to_str().expect("a path");
    let words =
        ["sumpwright-client", "lines", "top-up", file].into_iter().chain(words.iter().copied());
    ClientCommandLine::parse_from(words).run().map_err(|error| error.to_string())
}

#[test]
fn a_file_is_answered_into_another_and_never_over_itself() {
    let folder = tempfile::tempdir().expect("a folder");
    let [shop, answers] = ["shop.ndjson", "answers.ndjson"].map(|name| folder.path().join(name));
    std::fs::write(&shop, documents().0).expect("a file");
    let to = answers.to_str().expect("a path");
    assert_eq!(run(&["-o", to, "--minimal"], &shop), Ok(documents().1.failed));
    let written = std::fs::read_to_string(&answers).expect("it is there");
    assert_eq!(written.lines().count(), 2_402);
    let there = run(&["-o", to], &shop).expect_err("it is there already");
    assert!(there.ends_with("or say --force to write over it."), "{there}");
    let itself = run(&["-o", shop.to_str().expect("a path"), "--force"], &shop);
    let itself = itself.expect_err("it is read");
    assert!(itself.ends_with("is the file that is read. Name another file."), "{itself}");
    let missing = run(&[], &folder.path().join("no.ndjson")).expect_err("it is missing");
    assert!(missing.starts_with("There is no file "), "{missing}");
    let unknown = ["sumpwright-client", "lines", "topup", to];
    let unknown = ClientCommandLine::parse_from(unknown).run().expect_err("no such calculation");
    assert!(unknown.to_string().contains("Did you mean \"top-up\"?"), "{unknown}");
}
