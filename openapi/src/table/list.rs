//! A table that is one list of one document: a log of readings, a set of samples.

use super::dialect::{BEFORE_ROWS, Dialect, RowEnds};
use super::heading::{self, Column, first_of, read_headings};
use super::options::TableOptions;
use super::refused::{Refused, not_utf_8};
use super::rows;
use super::spelling::meant;
use super::unheaded;
use crate::flat::unflatten;
use crate::request::check::check;
use crate::request::envelope::{UNITS, units_named};
use crate::request::problem::{FaultCode, Problem, RequestFault};
use crate::service::Service;
use csv::ByteRecord;
use sumpwright_engine::document::{Pointer, Shape};

/// The document that a table stands for, in its flat form.
#[derive(Debug, Clone)]
pub struct ListTable {
    /// Its members, by path.
    members: Vec<(String, String)>,
    /// Whether its numbers have a decimal comma.
    pub decimal_comma: bool,
    list: &'static str,
    /// The row of the spreadsheet that each entry stands in.
    rows: Vec<usize>,
    /// The heading of each member of an entry.
    headings: Vec<(String, String)>,
}

impl ListTable {
    /// The paths and the texts of its members.
    pub fn pairs(&self) -> impl Iterator<Item = (&str, &str)> {
        self.members.iter().map(|(path, text)| (path.as_str(), text.as_str()))
    }

    /// A problem of the document as one of the table: each fault with its row and its heading.
    #[must_use]
    pub fn told(&self, problem: Problem) -> Problem {
        problem.told_by(|pointer| {
            let path = Pointer::from(pointer).path();
            let entry = path.strip_prefix(self.list)?.strip_prefix('.')?;
            let (place, inner) = entry.split_once('.').unwrap_or((entry, ""));
            let row = self.rows.get(place.parse::<usize>().ok()?)?;
            let heading = self.headings.iter().find(|(own, _)| own == inner);
            let column = heading.map_or(inner, |(_, heading)| heading);
            let column = if column.is_empty() { String::new() } else { format!(", {column}") };
            Some(format!("Row {row}{column}"))
        })
    }
}

/// The document that a table stands for: each row is an entry of the list called `list`, and the
/// query gives the other members. Empty rows and columns of the caller's own are skipped.
pub fn as_list(
    service: &Service,
    list: &'static str,
    table: &[u8],
    options: &TableOptions,
) -> Result<ListTable, Problem> {
    let above = options.rows_above();
    let table = &table[RowEnds::above(table, above).unwrap_or(table.len())..];
    let (headings, entries) = table.split_at(RowEnds::first(table).unwrap_or(table.len()));
    let dialect = Dialect::of(headings, options.latin)?;
    let entry = entry_of(service, list)?;
    let texts = texts_of(&read_headings(headings, dialect)?, dialect)?;
    let columns = columns(&texts, entry)?;
    if columns.iter().all(|column| *column == Column::Own) {
        let row = unheaded::headings_below(entries, dialect, entry);
        let row = row.map(|row| above + 1 + row);
        return Err(unheaded::refused(above + 1, row, &first_of(entry)).into());
    }
    let members = options.everywhere.iter().map(|(name, text)| {
        let path = match meant(name, &service.question).as_slice() {
            [path] => path.clone(),
            _ => name.clone(),
        };
        (path, text.clone())
    });
    let members: Vec<(String, String)> = members.collect();
    let said = members.iter().find(|(path, _)| path == UNITS);
    let units = said.and_then(|(_, word)| units_named(word));
    let all = numbered_rows(entries, headings, dialect, above + 2);
    let decimal_comma = options.decimal_comma.unwrap_or_else(|| {
        dialect.separator != b',' && all.iter().any(|(_, row)| has_comma(row, &columns, dialect))
    });
    let headings = columns.iter().zip(&texts).filter_map(|(column, text)| match column {
        Column::Member(member) => Some((member.path.clone(), text.trim().to_owned())),
        Column::Own => None,
    });
    let headings = headings.collect();
    let rows = all.iter().map(|(number, _)| *number).collect();
    let mut read = ListTable { members, decimal_comma, list, rows, headings };
    let mut faults = Vec::new();
    for (place, (_, row)) in all.iter().enumerate() {
        if let Some(detail) = rows::too_long(row, columns.len()) {
            let at = Pointer::of_path(&format!("{list}.{place}"));
            faults.push(RequestFault::new(FaultCode::UnreadableTable, at, detail));
        }
        for (cell, column) in row.iter().zip(&columns) {
            let Column::Member(member) = column else { continue };
            let text = dialect.text(cell).ok_or_else(not_utf_8)?;
            let path = format!("{list}.{place}.{}", member.path);
            if let Some(detail) = member.ambiguity(&text, decimal_comma) {
                let at = Pointer::of_path(&path);
                faults.push(RequestFault::new(FaultCode::Ambiguous, at, detail));
            }
            let text = member.in_document(&text, decimal_comma, units).into_owned();
            read.members.push((path, text));
        }
    }
    if faults.is_empty() {
        return Ok(read);
    }
    faults.extend(others_of_the_shape(service, &read, &faults));
    Err(read.told(Problem::with_faults(faults)))
}

/// What else is wrong with the shape of a document that cannot be answered anyway.
fn others_of_the_shape(
    service: &Service,
    read: &ListTable,
    known: &[RequestFault],
) -> Vec<RequestFault> {
    let document = unflatten(read.pairs(), &service.question);
    let checked = document.and_then(|document| check(&document, &service.question));
    let others = checked.err().map(|problem| problem.errors).unwrap_or_default();
    let is_new = |fault: &RequestFault| known.iter().all(|known| known.pointer != fault.pointer);
    others.into_iter().filter(is_new).collect()
}

/// Whether a column with this heading, in a table for `service`, holds numbers of the question.
#[must_use]
pub fn heads_numbers(heading: &str, service: &Service) -> bool {
    let entry = service.list().and_then(|list| service.question.member(list));
    match entry {
        Some(Shape::List(entry, _)) => heading::heads_numbers(heading, entry),
        _ => heading::heads_numbers(heading, &service.question),
    }
}

/// The shape of an entry of the list.
fn entry_of<'s>(service: &'s Service, list: &str) -> Result<&'s Shape, Problem> {
    match service.question.member(list) {
        Some(Shape::List(entry, _)) => Ok(entry),
        _ => Err(Refused::heading(format!("{} has no list {list:?}.", service.name)).into()),
    }
}

fn texts_of(headings: &[Vec<u8>], dialect: Dialect) -> Result<Vec<String>, Problem> {
    let text = |heading: &Vec<u8>| Some(dialect.text(heading)?.into_owned());
    headings.iter().map(|heading| text(heading).ok_or_else(not_utf_8)).collect()
}

/// The meaning of every heading, or what is wrong with each that has none.
fn columns(headings: &[String], entry: &Shape) -> Result<Vec<Column>, Problem> {
    let (mut columns, mut faults) = (Vec::new(), Vec::new());
    for heading in headings {
        match Column::of(heading, entry) {
            Ok(column) => columns.push(column),
            Err(refused) => faults.push(refused.into()),
        }
    }
    if faults.is_empty() { Ok(columns) } else { Err(Problem::with_faults(faults)) }
}

/// The rows that have something in them, each with its number in the spreadsheet.
fn numbered_rows(
    rows: &[u8],
    headings: &[u8],
    dialect: Dialect,
    first: usize,
) -> Vec<(usize, ByteRecord)> {
    let (mut reader, mut row) = (dialect.reader(rows), ByteRecord::new());
    let (mut ends, mut number, mut from) = (RowEnds::below(headings), first, 0);
    let mut numbered = Vec::new();
    while reader.read_byte_record(&mut row).unwrap_or(false) {
        // The reader leaves blank lines out, and stops between the two bytes of a line end.
        let read = usize::try_from(reader.position().byte()).unwrap_or(rows.len());
        let read = read.saturating_sub(BEFORE_ROWS.len());
        let is_cut = rows[..read].ends_with(b"\r") && rows[read..].starts_with(b"\n");
        let to = read + usize::from(is_cut);
        let (mut ended, mut last) = (0, 0);
        ends.each(&rows[from..to], |end| (ended, last) = (ended + 1, end));
        let own = number + ended - usize::from(last == to - from && ended > 0);
        (number, from) = (number + ended, to);
        if row.iter().any(|cell| !cell.trim_ascii().is_empty()) {
            numbered.push((own, row.clone()));
        }
    }
    numbered
}

fn has_comma(row: &ByteRecord, columns: &[Column], dialect: Dialect) -> bool {
    row.iter().zip(columns).any(|(cell, column)| match column {
        Column::Member(member) => member.has_comma(&dialect.text(cell).unwrap_or_default()),
        Column::Own => false,
    })
}
