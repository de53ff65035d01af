//! Laws for the reader of tables, for any bytes.

use super::laws::{Depth, assert_explains, assert_flat, named};
use csv::ByteRecord;
use serde_json::Value;
use std::collections::BTreeMap;
use std::sync::Arc;
use sumpwright_openapi::flat;
use sumpwright_openapi::service::{Service, Services};
use sumpwright_openapi::table::{Dialect, RowEnds, Table, TableOptions, as_list, row_of_headings};

/// Longer tables are skipped, so that none takes long.
const BYTES_MOST: usize = 4096;

/// A table: after the byte that names the calculation a line with its query, then
/// the table itself.
pub(crate) fn table(services: &Services, depth: Depth, input: &[u8]) {
    let Some((first, rest)) = input.split_first() else { return };
    let Some(end) = rest.iter().position(|byte| *byte == b'\n') else { return };
    let (query, table) = (&rest[..end], &rest[end + 1..]);
    // Tables with uncertainty in every row would take long.
    let draws = [&b"uncertainty"[..], b"draws", b"sampling", b"spread"];
    let takes_long =
        |text: &[u8]| draws.iter().any(|word| text.windows(word.len()).any(|found| found == *word));
    if table.len() > BYTES_MOST || takes_long(rest) {
        return;
    }
    let (service, round) = named(services, *first);
    let options = options(query, round % 2 == 1);
    let service = services.get(service.name).expect("it was just found");
    match service.list() {
        Some(list) => one_list(service, depth, list, table, &options),
        None => rows(service, depth, table, &options),
    }
}

/// The options of a table in a query.
fn options(query: &[u8], latin: bool) -> TableOptions {
    let mut options = TableOptions { latin, ..TableOptions::default() };
    for (name, text) in form_urlencoded::parse(query) {
        match (name.as_ref(), text.trim()) {
            (_, "") => {}
            ("columns", paths) => {
                let paths = paths.split(',').map(|path| path.trim().to_owned());
                options.columns = Some(paths.collect());
            }
            ("decimal", mark) => options.decimal_comma = Some(mark == "comma"),
            _ => options.everywhere.push((name.into_owned(), text.into_owned())),
        }
    }
    options
}

fn one_list(
    service: &Service,
    depth: Depth,
    list: &'static str,
    table: &[u8],
    options: &TableOptions,
) {
    match as_list(service, list, table, options) {
        Ok(asked) => assert_flat(service, depth, &asked.pairs().collect::<Vec<_>>()),
        Err(problem) => assert_explains(&problem),
    }
}

fn rows(service: &Arc<Service>, depth: Depth, table: &[u8], options: &TableOptions) {
    let (headings, rows) = table.split_at(RowEnds::first(table).unwrap_or(table.len()));
    let opened = match Table::open(Arc::clone(service), headings, rows, options) {
        Ok(opened) => opened,
        Err(problem) => return assert_explains(&problem),
    };
    let mut ends = RowEnds::below(headings);
    let last = ends.last(rows).unwrap_or(0);
    let (whole, open) = rows.split_at(if ends.is_open() { last } else { rows.len() });
    if depth == Depth::Question {
        return drop(in_pieces(&opened, depth, headings, rows));
    }
    let mut answered = Vec::new();
    opened.answer(whole, &mut answered);
    assert_eq!(answered, in_pieces(&opened, depth, headings, whole), "in pieces");
    if !open.is_empty() {
        opened.answer_open(open, &mut answered);
    }

    let dialect = Dialect::of(headings, false);
    let dialect = dialect.expect("the table was opened");
    let read = |bytes: &[u8]| -> Vec<ByteRecord> {
        let rows = dialect.reader(bytes).into_byte_records();
        rows.map(|row| row.expect("a row in memory")).collect()
    };
    let heading = read(&opened.heading()).remove(0);
    let (asked, answered) = (read(whole), read(&answered));
    assert_eq!(answered.len(), asked.len() + usize::from(!open.is_empty()), "a row a row");
    for row in &answered {
        assert_eq!(row.len(), heading.len(), "{row:?} under {heading:?}");
    }
    let own = read(row_of_headings(headings)).remove(0);
    if options.latin || !is_plain(service, &own, dialect, options) {
        return;
    }
    for (asked, answered) in asked.iter().zip(&answered) {
        assert_row(service, options, &own, asked, &heading, answered);
    }
}

/// The answer to rows that come byte by byte, each answered as soon as it ends.
fn in_pieces(table: &Table, depth: Depth, headings: &[u8], rows: &[u8]) -> Vec<u8> {
    let (mut ends, mut from, mut answered) = (RowEnds::below(headings), 0, Vec::new());
    let mut answer = |rows: &[u8]| depth.of(|| table.answer(rows, &mut answered));
    for at in 0..rows.len() {
        if ends.last(&rows[at..=at]).is_some() {
            answer(&rows[from..=at]);
            from = at + 1;
        }
    }
    answer(&rows[from..]);
    answered
}

/// Whether each column is a member in the units of its row, with decimal points.
fn is_plain(
    service: &Service,
    headings: &ByteRecord,
    dialect: Dialect,
    options: &TableOptions,
) -> bool {
    let points = options.decimal_comma.map_or(dialect.separator == b',', |comma| !comma);
    let member = |heading: &[u8]| {
        std::str::from_utf8(heading).is_ok_and(|path| service.question.has_path(path.trim()))
    };
    points && headings.iter().all(member)
}

/// Asserts that a row has the same answer as the document in its flat form.
fn assert_row(
    service: &Service,
    options: &TableOptions,
    own: &ByteRecord,
    asked: &ByteRecord,
    heading: &ByteRecord,
    answered: &ByteRecord,
) {
    let text = |cell| std::str::from_utf8(cell).expect("an answer is in UTF-8");
    let cells: Option<Vec<&str>> =
        asked.iter().map(|cell| std::str::from_utf8(cell).ok()).collect();
    let Some(cells) = cells.filter(|cells| cells.len() <= own.len()) else { return };
    if cells.iter().all(|cell| cell.trim_ascii().is_empty()) {
        return;
    }
    let said = options.everywhere.iter().map(|(path, text)| (path.trim(), text.as_str()));
    let pairs = own.iter().map(|path| text(path).trim()).zip(cells).chain(said);
    let problem = text(&answered[answered.len() - 1]);
    let record = match service.answer_flat(pairs) {
        Ok(record) => record,
        Err(expected) => return assert_eq!(bare(problem), bare(&expected.in_a_cell())),
    };
    assert!(problem.is_empty() || problem.contains("more values"), "{problem} and {record}");
    let expected: BTreeMap<String, &Value> = flat::flatten(&record).into_iter().collect();
    for column in own.len()..heading.len() - 1 {
        let path = text(&heading[column]).split(' ').next().unwrap_or_default();
        let leaf = expected.get(path).map(|leaf| flat::leaf_text(leaf)).unwrap_or_default();
        assert_eq!(bare(text(&answered[column])), bare(&leaf), "{path} of {record}");
    }
}

/// A text without the apostrophe that disarms it.
fn bare(text: &str) -> &str {
    text.trim_start_matches('\'')
}
