//! What the client says when something is not as it should be, and what it keeps.

use super::{Shown, TABLE, over_http};
use crate::server::{address, start};
use crate::service;
use clap::Parser;
use std::io::{BufRead, BufReader, Read, Write};
use std::net::{TcpListener, TcpStream};
use std::path::Path;
use std::sync::{LazyLock, Mutex};
use sumpwright_client::command_line::ClientCommandLine;
use sumpwright_client::sheet::Cell;
use sumpwright_client::{Client, Error, Server};
use sumpwright_openapi::service::Services;
use sumpwright_openapi::table::{TableOptions, answer_whole};
use sumpwright_server::access::keys::new_key;
use sumpwright_server::configuration::Configuration;
use tempfile::TempDir;

/// A folder with a table of so many sumps in it.
pub(super) fn folder_of(sumps: usize) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let table = format!("{TABLE}{}", "lathe,200,140,7,8\n".repeat(sumps));
    std::fs::write(folder.path().join("sumps.csv"), table).expect("a file");
    folder
}

/// What the program ends with, words as somebody types them in a folder: in quotation marks where
/// there is a space in one.
pub(super) fn run(folder: &Path, words: &str) -> Result<usize, String> {
    let words = words.replace('@', &format!("{}/", folder.display()));
    let words = format!("sumpwright-client {words}");
    let pieces = words.split('"').enumerate();
    let words = pieces.flat_map(|(place, piece)| match place % 2 {
        0 => piece.split_whitespace().collect(),
        _ => vec![piece],
    });
    let read = ClientCommandLine::try_parse_from(words).expect("they are sound");
    read.run().map_err(|error| error.to_string())
}

#[test]
fn a_file_is_named_in_what_is_said_of_it() {
    let folder = folder_of(1);
    let folder = folder.path();
    for (name, content) in
        [("text.xlsx", &b"hello"[..]), ("text.ods", b""), ("wide.csv", b"\xff\xfea\0")]
    {
        std::fs::write(folder.join(name), content).expect("a file");
    }
    for (words, parts) in [
        ("rows top-up @nothing.xlsx -o @o.csv", ["There is no file ", "nothing.xlsx"]),
        ("rows top-up @nothing.csv -o @o.csv", ["There is no file ", "nothing.csv"]),
        ("ask top-up @nothing.json", ["There is no file ", "nothing.json"]),
        ("rows top-up @text.xlsx -o @o.csv", ["text.xlsx", "cannot be read as a workbook"]),
        ("rows top-up @text.ods -o @o.csv", ["text.ods", "cannot be read as a workbook"]),
        ("rows top-up @wide.csv -o @o.csv", ["wide.csv", "is in UTF-16"]),
        ("rows top-up @sumps.csv -o @o", ["/o has no ending", ".csv or .xlsx"]),
    ] {
        let said = run(folder, words).expect_err(words);
        assert!(parts.iter().all(|part| said.contains(part)), "{words}: {said}");
    }
}

/// Where nobody answers: it would take long to find out.
const NOBODY: &str = "--server http://127.0.0.1:9";

#[test]
fn whether_the_answers_can_be_written_is_known_before_anything_is_asked() {
    let folder = folder_of(1);
    let began = std::time::Instant::now();
    let words = format!("rows top-up @sumps.csv -o @below/o.csv --units metric {NOBODY}");
    let said = run(folder.path(), &words).expect_err("there is no folder");
    assert!(said.starts_with("There is no folder ") && said.contains("below/o.csv"), "{said}");
    assert!(began.elapsed().as_secs() < 5, "the server was asked first");
    assert_eq!(std::fs::read_dir(folder.path()).expect("the folder").count(), 1);
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_in_one_sentence() {
    let folder = folder_of(1);
    for file in ["full.xlsx", "full.csv"] {
        std::os::unix::fs::symlink("/dev/full", folder.path().join(file)).expect("a link");
        let words = format!("rows top-up @sumps.csv -o @{file} --force --units metric");
        let said = run(folder.path(), &words).expect_err("it is full");
        assert!(said.starts_with("There is no room for ") && said.contains(file), "{said}");
    }
}

#[test]
fn what_is_no_address_or_no_key_is_refused_before_anything_is_sent() {
    let client = |address: &str, key: &str| Server::new(address, Some(key.to_owned()), 0);
    for address in ["127.0.0.1:8787", "localhost:8787", "shop-pc", "ftp://shop-pc", ""] {
        let said = client(address, "k").expect_err(address).to_string();
        assert!(said.contains("begins with http:// or https://"), "{said}");
    }
    for key in ["two words", "schl\u{fc}ssel"] {
        let said = client("http://127.0.0.1:9", key).expect_err(key).to_string();
        assert!(said.starts_with("The key has a character that no key has"), "{said}");
    }
}

#[test]
fn a_key_is_asked_for_as_the_program_takes_it_and_may_end_a_line() {
    let (key, line) = new_key("shop").expect("a key");
    let configuration = Configuration { key_hashes: vec![line], ..Configuration::default() };
    let server = start(Services::new(), configuration);
    let folder = folder_of(1);
    for words in ["ask top-up @sumps.csv", "rows top-up @sumps.csv -o @o.csv --units metric"] {
        let said = run(folder.path(), &format!("{words} --server {server}")).expect_err("no key");
        assert_eq!(said, "The service needs a key. Say --key KEY, or set SUMPWRIGHT_KEY.");
    }
    let client = |key: String| Client::of(Server::new(&server, Some(key), 0).expect("a client"));
    let example = service("top-up").example.as_bytes();
    client(format!("{key}\r\n")).solve_document("top-up", example).expect("it is known");
    let wrong = client("0".repeat(64)).solve_document("top-up", example).expect_err("unknown");
    assert!(wrong.to_string().contains("does not know the key"), "{wrong}");
}

#[test]
fn a_document_that_is_no_json_is_told_in_words() {
    let folder = folder_of(1);
    let folder = folder.path();
    for (name, content, part) in [
        ("mark.json", &b"\xef\xbb\xbf{}"[..], "sump: \"sump\" is missing."),
        ("wide.json", b"\xff\xfe{\0}\0", "in UTF-16. Save it as UTF-8."),
        ("comma.json", b"{\"brix\": 5,6}", "Is 5,6 written with a decimal comma? Write 5.6."),
        ("empty.json", b"", "The document is empty."),
        ("words.json", b"lathe 1", "not JSON"),
    ] {
        std::fs::write(folder.join(name), content).expect("a file");
        let said = run(folder, &format!("ask top-up @{name}")).expect_err(name);
        assert!(said.contains(part), "{name}: {said}");
    }
    let said = run(folder, "ask topup @mark.json").expect_err("no such calculation");
    assert_eq!(said, "There is no calculation \"topup\". Did you mean \"top-up\"?");
}

#[test]
fn every_fault_has_a_line() {
    for client in [Client::in_process(), over_http()] {
        let error = client.solve_document("top-up", b"{\"units\":\"metric\",\"sump\":{}}");
        let said = error.expect_err("much is missing").to_string();
        assert_eq!(said.lines().count(), 3, "{said}");
        assert!(said.lines().any(|line| line == "sump.volume: \"volume\" is missing."), "{said}");
    }
}

#[test]
fn that_a_server_is_asked_again_is_said_once() {
    static SAID: LazyLock<Mutex<Vec<String>>> = LazyLock::new(Mutex::default);
    let free = TcpListener::bind("127.0.0.1:0").expect("a port").local_addr().expect("its address");
    let server = Server::new(&format!("http://{free}/"), None, 2).expect("an address");
    let client = Client::of(server.saying(|text| {
        SAID.lock().expect("nobody failed").push(text.to_owned());
    }));
    for _ in 0..2 {
        let error = client.solve_document("top-up", b"{}").expect_err("nobody listens");
        let wanted = format!("Nobody answers at http://{free}. Is the service running there?");
        assert_eq!(error.to_string(), wanted);
    }
    let said = SAID.lock().expect("nobody failed");
    let wanted = format!(
        "Nobody answers at http://{free}. Is the service running there? Trying 2 more times, for \
         about 1 s."
    );
    assert_eq!(*said, [wanted]);
}

/// Reads a request; its body.
pub(super) fn request(connection: &TcpStream) -> Vec<u8> {
    let mut reader = BufReader::new(connection);
    let (mut length, mut line) = (0, String::new());
    while reader.read_line(&mut line).expect("a line") > 2 {
        if let Some(said) = line.to_lowercase().strip_prefix("content-length:") {
            length = said.trim().parse().expect("a number");
        }
        line.clear();
    }
    let mut body = vec![0; length];
    reader.read_exact(&mut body).expect("the body");
    body
}

/// A server that answers one piece of a table, begins to answer another, and is gone.
fn dies_midway() -> String {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    let address = format!("http://{}", listener.local_addr().expect("an address"));
    std::thread::spawn(move || {
        for whole in [true, false] {
            let (mut connection, _) = listener.accept().expect("a call");
            let table = String::from_utf8(request(&connection)).expect("text");
            let options = TableOptions {
                everywhere: vec![("units".to_owned(), "metric".to_owned())],
                ..TableOptions::default()
            };
            let top_up = crate::SERVICES.get("top-up").expect("it is there");
            let answers = answer_whole(top_up, table.as_bytes(), &options).expect("answers");
            let sent = if whole { answers.len() } else { answers.len() / 2 };
            let head = format!(
                "HTTP/1.1 200 OK\r\nContent-Length: {}\r\nConnection: close\r\n\r\n",
                answers.len()
            );
            connection.write_all(head.as_bytes()).expect("it is sent");
            connection.write_all(&answers[..sent]).expect("it is sent");
        }
    });
    address
}

#[test]
fn what_a_server_answered_before_it_died_is_kept() {
    let folder = folder_of(600);
    let words = format!(
        "rows top-up @sumps.csv -o @o.csv --units metric --at-once 1 --retries 0 --server {}",
        dies_midway()
    );
    assert_eq!(run(folder.path(), &words), Ok(350), "so many rows have no answer");
    let kept = Shown::read(&folder.path().join("o.csv"));
    assert_eq!(kept.rows.len(), 600);
    assert_eq!(kept.headings.last().map(String::as_str), Some("problem"));
    for (place, row) in kept.rows.iter().enumerate() {
        assert_eq!(row[0], Cell::Text("lathe".to_owned()), "row {place}");
        let answered = row.iter().filter(|cell| **cell != Cell::Blank).count() > 6;
        assert_eq!(answered, place < 250, "row {place}: {row:?}");
        match row.last() {
            Some(Cell::Text(why)) => assert!(why.contains("did not answer to the end"), "{why}"),
            other => assert_eq!((other, place < 250), (Some(&Cell::Blank), true), "row {place}"),
        }
    }
    // Where nothing at all was answered, nothing is written.
    let folder = folder_of(1);
    let words = format!("rows top-up @sumps.csv -o @o.csv --units metric --retries 0 {NOBODY}");
    let said = run(folder.path(), &words).expect_err("nobody answers");
    assert!(said.starts_with("Nobody answers at http://127.0.0.1:9."), "{said}");
    assert!(!folder.path().join("o.csv").exists());
}

#[test]
fn a_server_that_sends_something_else_is_no_service() {
    let there = Server::new(&format!("{}/docs", address()), None, 0).expect("an address");
    let error = Client::of(there).solve_document("top-up", b"{}").expect_err("nothing is there");
    assert!(matches!(error, Error::Problem(_) | Error::NotAnAnswer(_)), "{error}");
}
