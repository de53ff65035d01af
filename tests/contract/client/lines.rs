//! A file of documents is answered line by line, here and by a server.

use super::over_http;
use clap::Parser;
use std::path::Path;
use sumpwright_client::command_line::ClientCommandLine;
use sumpwright_client::lines::{AnsweredLines, ask};
use sumpwright_client::{Client, Extent};

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
            let mut answers = Vec::new();
            let answered = ask(&client, "top-up", extent, documents.as_bytes(), &mut answers);
            assert_eq!(answered.expect("it is answered"), expected);
            String::from_utf8(answers).expect("text")
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
