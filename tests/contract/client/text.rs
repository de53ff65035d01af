//! CSV files as spreadsheets save them: what is the caller's comes back byte for byte.

use super::Shown;
use super::messages::run;
use crate::server::address;
use std::path::Path;
use sumpwright_client::sheet::Cell;

const HEADINGS: &str = "machine;sump.capacity;sump.volume;sump.reading.method;sump.reading.brix;\
                        sump.reading.factor;target.concentration;seen";
const ROWS: [&str; 3] = [
    "\"M\u{fc}hle \"\"a\"\"; links\";0150;120,00;refractometer;4,80;1,25;8,0; 2.3.26 ",
    "lathe;150;120;refractometer;4.8;1.25;8;\"\"",
    "mill;1.250;120;refractometer;4,8;1,25;8,0;x",
];

/// The lines of a file, each without the end that all of them have.
fn lines(path: &Path, end: &str) -> Vec<Vec<u8>> {
    let bytes = std::fs::read(path).expect("a file");
    let mut lines = vec![Vec::new()];
    for byte in bytes {
        let line = lines.last_mut().expect("there is one");
        line.push(byte);
        if line.ends_with(end.as_bytes()) {
            line.truncate(line.len() - end.len());
            lines.push(Vec::new());
        }
    }
    assert_eq!(lines.pop(), Some(Vec::new()), "the last line has an end");
    lines
}

/// A table with semicolons and decimal commas, after a title, with blank lines in it, in every
/// encoding, line end and beginning: answered alike here and by a server, and all that is the
/// caller's stays in its place.
/// How a text becomes the bytes of a file.
type Encode = fn(&str) -> Vec<u8>;

#[test]
fn what_is_the_callers_comes_back_byte_for_byte() {
    let folder = tempfile::tempdir().expect("a folder");
    let at = |name: &str| folder.path().join(name);
    let windows_1252 = |text: &str| {
        text.chars().map(|letter| u8::try_from(u32::from(letter)).expect("a letter")).collect()
    };
    let utf_8 = |text: &str| text.as_bytes().to_vec();
    let encodings: [(&str, Encode); 2] = [("", utf_8), ("latin ", windows_1252)];
    for (encoding, encoded) in encodings {
        for (before, end) in [("", "\n"), ("sep=;\r\n", "\r\n")] {
            let own = ["Our sumps; March", "", HEADINGS, ROWS[0], "", ";;;;;;;", ROWS[1], ROWS[2]];
            let table = own.join(end) + end;
            std::fs::write(at("a.csv"), encoded(&format!("{before}{table}"))).expect("a file");
            let words = "rows top-up @a.csv -o @o.csv --force --headings-in-row 3 --units metric \
                         --columns answer.add.0.volume,answer.drain --digits 3";
            assert_eq!(run(folder.path(), words), Ok(1), "{encoding}{before:?}");
            let written = std::fs::read(at("o.csv")).expect("a file");
            assert!(written.starts_with(before.as_bytes()));
            std::fs::write(at("o.csv"), &written[before.len()..]).expect("a file");
            let lines = lines(&at("o.csv"), end);
            assert_eq!(lines.len(), own.len());
            for (line, own) in lines.iter().zip(own) {
                assert!(line.starts_with(&encoded(own)), "{encoding}{before:?}: {own}");
            }
            let more = |line: usize| {
                let more = &lines[line][encoded(own[line]).len()..];
                String::from_utf8(more.to_vec()).expect("ASCII")
            };
            assert_eq!(more(2), ";answer.add.0.volume [L];answer.drain [L];problem");
            // (150 · 8 − 120 · 6) / 100 L of concentrate.
            assert_eq!(more(3), ";4,8;0;");
            assert_eq!(more(6), ";4,8;0;");
            let problem = more(7);
            assert!(problem.contains("sump.capacity: This table has decimal commas"), "{problem}");
            assert_eq!([more(0), more(1), more(4), more(5)], ["", "", "", ""]);

            let there = words.replace("@o.csv", "@b.csv") + &format!(" --server {}", address());
            assert_eq!(run(folder.path(), &there), Ok(1));
            assert_eq!(std::fs::read(at("b.csv")).expect("a file"), written);
        }
    }
}

/// In a workbook, and rounded, numbers are numbers.
#[test]
fn decimal_commas_become_numbers_in_a_workbook() {
    let folder = tempfile::tempdir().expect("a folder");
    let table = format!("\u{feff}{HEADINGS}\n{}\n", ROWS[0].replace("8,0", "7,77"));
    std::fs::write(folder.path().join("a.csv"), &table).expect("a file");
    let words = "rows top-up @a.csv -o @o.xlsx --units metric --digits 2";
    assert_eq!(run(folder.path(), words), Ok(0));
    let shown = Shown::read(&folder.path().join("o.xlsx"));
    assert_eq!(shown.headings[0], "machine");
    assert_eq!(shown.cell(0, "sump.reading.brix"), &Cell::Number(4.8));
    assert_eq!(shown.cell(0, "machine"), &Cell::Text("M\u{fc}hle \"a\"; links".to_owned()));
    // (150 · 7.77 − 120 · 6) / 100 = 4.455 L.
    assert_eq!(shown.cell(0, "answer.add.0.volume [L]"), &Cell::Number(4.5));
    // The file began with a mark, and so does another one.
    assert_eq!(run(folder.path(), &words.replace("xlsx", "csv")), Ok(0));
    let written = std::fs::read_to_string(folder.path().join("o.csv")).expect("a file");
    assert!(written.starts_with("\u{feff}machine;"), "{written}");
}

#[test]
fn a_quotation_mark_that_is_not_closed_is_told_with_its_row() {
    let folder = tempfile::tempdir().expect("a folder");
    let table = format!("{HEADINGS}\n{}\n\n\"lathe 2;150\nlathe 3;150\n", ROWS[0]);
    std::fs::write(folder.path().join("a.csv"), table).expect("a file");
    let said = run(folder.path(), "rows top-up @a.csv -o @o.csv --units metric");
    let said = said.expect_err("it is open");
    assert!(said.contains("a quotation mark in row 4 that is not closed"), "{said}");
    assert!(!folder.path().join("o.csv").exists());
}

#[test]
fn a_column_that_no_answer_has_is_refused() {
    let folder = tempfile::tempdir().expect("a folder");
    std::fs::write(folder.path().join("a.csv"), format!("{HEADINGS}\n{}\n", ROWS[0]))
        .expect("a file");
    let words = "rows top-up @a.csv -o @o.csv --units metric --columns answer.drian";
    let said = run(folder.path(), words).expect_err("there is none");
    assert_eq!(said, "The answer has no member \"answer.drian\".");
}
