//! CSV as spreadsheets save it: with semicolons, tabs or commas, decimal commas, in UTF-8 or
//! windows-1252, with the line `sep=;` or a byte order mark before it.

use super::{Cell, Row, Sheet, Source};
use crate::file::{self, FileError};
use csv::ByteRecord;
use std::borrow::Cow;
use std::path::Path;
use sumpwright_openapi::table::{Dialect, RowEnds};
use sumpwright_openapi::tree::BYTE_ORDER_MARK;

/// How a file of text is written, so that another can be written alike.
#[derive(Debug, Clone, PartialEq)]
pub struct Notation {
    /// Separator and encoding.
    pub dialect: Dialect,
    /// What stands before the first row: a byte order mark, a line `sep=;`.
    pub before: Vec<u8>,
    /// What ends a row.
    pub line_end: &'static str,
}

impl Default for Notation {
    fn default() -> Self {
        let dialect = Dialect { separator: b',', decimal_comma: false, latin: false };
        Self { dialect, before: Vec::new(), line_end: "\n" }
    }
}

impl Notation {
    /// The notation of a file whose row of this number has the headings, and what of it are
    /// rows.
    fn of(bytes: &[u8], headings_in: usize) -> Result<(Self, &[u8]), &'static str> {
        if bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff") {
            return Err("is in UTF-16. Save it as CSV in UTF-8.");
        }
        let rows = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
        // What is not UTF-8 is in a code page; all bytes go out as they came in.
        let latin = std::str::from_utf8(rows).is_err();
        let (said, rows) = said_separator(rows);
        let above = RowEnds::above(rows, headings_in.saturating_sub(1)).unwrap_or(0);
        let headings = &rows[above..];
        let headings = &headings[..RowEnds::first(headings).unwrap_or(headings.len())];
        let dialect = Dialect::of(headings, latin).map_err(|_| "is no CSV.")?;
        let separator = said.unwrap_or(dialect.separator);
        let line_end = if headings.ends_with(b"\r\n") { "\r\n" } else { "\n" };
        let before = bytes[..bytes.len() - rows.len()].to_vec();
        Ok((Self { dialect: Dialect { separator, ..dialect }, before, line_end }, rows))
    }

    /// A text in the encoding of the file. Whatever the service says can be written in
    /// windows-1252.
    pub(crate) fn encoded<'t>(&self, text: &'t str) -> Cow<'t, [u8]> {
        if self.dialect.latin {
            encoding_rs::WINDOWS_1252.encode(text).0
        } else {
            Cow::Borrowed(text.as_bytes())
        }
    }
}

/// The separator that a line such as `sep=;` before the table says, and the rest.
fn said_separator(table: &[u8]) -> (Option<u8>, &[u8]) {
    let end = table.iter().position(|byte| *byte == b'\n').map_or(table.len(), |end| end + 1);
    let (line, rest) = table.split_at(end);
    let line = line.trim_ascii_end();
    let line = line.strip_prefix(b"\"").and_then(|line| line.strip_suffix(b"\"")).unwrap_or(line);
    match line {
        [s, e, p, b'=', separator] if [*s, *e, *p].eq_ignore_ascii_case(b"sep") => {
            (Some(*separator), rest)
        }
        // A tab at the end of the line has been trimmed.
        [s, e, p, b'='] if [*s, *e, *p].eq_ignore_ascii_case(b"sep") => (Some(b'\t'), rest),
        _ => (None, table),
    }
}

/// Reads a CSV file, whose row of this number, counted from 1, has the headings.
pub(super) fn read(path: &Path, headings_in: Option<usize>) -> Result<Sheet, FileError> {
    let bytes = file::read(path)?;
    let unfit = |why: String| FileError::Unfit(format!("{} {why}", path.display()));
    let (notation, table) =
        Notation::of(&bytes, headings_in.unwrap_or(1)).map_err(|why| unfit(why.to_owned()))?;
    let rows = rows(table, notation.dialect);
    if is_open(table) {
        let place = rows.last().map_or(1, |row| row.place);
        return Err(unfit(format!(
            "has a quotation mark in row {place} that is not closed, so that everything after it \
             is one cell. Close it, or double each mark that belongs to a text."
        )));
    }
    Sheet::of_rows(rows, headings_in, Source::Text(notation)).map_err(unfit)
}

/// A row parted by the separator that it has most of itself.
pub(super) fn parted_by_itself(row: &Row, notation: &Notation) -> Option<Row> {
    let dialect = Dialect::of(&row.bytes, notation.dialect.latin).ok()?;
    rows(&row.bytes, dialect).into_iter().next()
}

fn is_open(table: &[u8]) -> bool {
    let mut ends = RowEnds::below(&table[..RowEnds::first(table).unwrap_or(0)]);
    ends.last(table);
    ends.is_open()
}

/// The rows of a table with their places, blank ones among them, and their bytes.
fn rows(table: &[u8], dialect: Dialect) -> Vec<Row> {
    let mut reader = dialect.reader(table);
    let (mut rows, mut record) = (Vec::new(), ByteRecord::new());
    let mut from = 0;
    while reader.read_byte_record(&mut record).unwrap_or(false) {
        // The reader is given an empty line before the table.
        let read = usize::try_from(reader.position().byte()).unwrap_or(usize::MAX);
        let to = read.saturating_sub(1).min(table.len());
        let mut bytes = &table[from..to];
        if from > 0 && table[from - 1] == b'\r' {
            bytes = bytes.strip_prefix(b"\n").unwrap_or(bytes);
        }
        from = to;
        while let Some(rest) = without_blank_line(bytes) {
            rows.push(Row { place: rows.len() + 1, ..Row::default() });
            bytes = rest;
        }
        let bytes = bytes.strip_suffix(b"\n").unwrap_or(bytes);
        let bytes = bytes.strip_suffix(b"\r").unwrap_or(bytes);
        let text = |cell| dialect.text(cell).unwrap_or_default();
        let cells = record.iter().map(|cell| Cell::of_text(&text(cell))).collect();
        rows.push(Row { place: rows.len() + 1, cells, bytes: bytes.to_vec(), ..Row::default() });
    }
    rows
}

fn without_blank_line(bytes: &[u8]) -> Option<&[u8]> {
    let rest = bytes.strip_prefix(b"\r\n").or_else(|| bytes.strip_prefix(b"\n"));
    rest.or_else(|| bytes.strip_prefix(b"\r"))
}

/// A table as the service writes it: its headings and its rows.
pub(crate) fn of_service(table: &[u8], separator: u8) -> (Vec<String>, Vec<Vec<String>>) {
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .has_headers(false)
        .flexible(true)
        .from_reader(table);
    let mut rows = reader.records().map_while(Result::ok);
    let texts = |row: csv::StringRecord| row.iter().map(str::to_owned).collect::<Vec<_>>();
    let headings = rows.next().map(texts).unwrap_or_default();
    (headings, rows.map(texts).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(bytes: &[u8]) -> (Notation, Vec<Row>) {
        let (notation, table) = Notation::of(bytes, 1).expect("a table");
        let rows = rows(table, notation.dialect);
        (notation, rows)
    }

    #[test]
    fn rows_have_the_places_that_a_spreadsheet_shows_and_their_bytes() {
        for end in ["\n", "\r\n", "\r"] {
            let table = ["a;b", "", "\"x;\r\ny\";1", ";", "", "", "2;3 "].join(end);
            let (notation, rows) = read(table.as_bytes());
            assert_eq!(notation.dialect.separator, b';');
            let bytes: Vec<&[u8]> = rows.iter().map(|row| &row.bytes[..]).collect();
            let expected: [&[u8]; 7] = [b"a;b", b"", b"\"x;\r\ny\";1", b";", b"", b"", b"2;3 "];
            assert_eq!(bytes, expected, "{end:?}");
            let places: Vec<usize> = rows.iter().map(|row| row.place).collect();
            assert_eq!(places, [1, 2, 3, 4, 5, 6, 7]);
            let blank: Vec<bool> = rows.iter().map(Row::is_blank).collect();
            assert_eq!(blank, [false, true, false, true, true, true, false]);
        }
    }

    #[test]
    fn the_notation_of_a_file_is_seen() {
        let (notation, rows) = read(b"\xef\xbb\xbfsep=;\r\na;b,c,d\r\n1;2\r\n");
        assert_eq!((notation.dialect.separator, notation.line_end), (b';', "\r\n"));
        assert_eq!(notation.before, b"\xef\xbb\xbfsep=;\r\n");
        assert_eq!(rows[0].cells[1], Cell::Text("b,c,d".to_owned()));
        assert_eq!(read(b"sep=\t\na\tb\n").0.dialect.separator, b'\t');
        let (notation, rows) = read(b"a;M\xfchle\r\n");
        assert!(notation.dialect.latin);
        assert_eq!(rows[0].cells[1], Cell::Text("M\u{fc}hle".to_owned()));
        assert_eq!(&notation.encoded("M\u{fc}hle \u{b0}")[..], b"M\xfchle \xb0");
        assert!(Notation::of(b"\xff\xfea\0", 1).is_err());
        assert!(is_open(b"a,b\n1,\"2\n") && !is_open(b"a,b\n1,\"2\"\n"));
    }
}
