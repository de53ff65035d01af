//! A table that is one list of one document: a log of readings, a set of samples.

use super::dialect::{Dialect, RowEnds};
use super::heading::{self, Column, read_headings};
use super::options::TableOptions;
use super::refused::{Refused, not_utf_8};
use super::rows;
use crate::request::envelope::{UNITS, units_named};
use crate::request::problem::{FaultCode, Problem, RequestFault};
use crate::request::tree::BYTE_ORDER_MARK;
use crate::service::Service;
use csv::ByteRecord;
use sumpwright_engine::document::{Pointer, Shape};

/// The document that a table stands for, in its flat form: each row is an entry of the
/// list called `list`, and the query gives the other members. Empty rows and columns of
/// the caller's own are skipped. The second value says whether numbers have a decimal
/// comma.
pub fn as_list(
    service: &Service,
    list: &str,
    table: &[u8],
    options: &TableOptions,
) -> Result<(Vec<(String, String)>, bool), Problem> {
    let table = table.strip_prefix(BYTE_ORDER_MARK).unwrap_or(table);
    let (headings, entries) = table.split_at(RowEnds::first(table).unwrap_or(table.len()));
    let dialect = Dialect::of(headings, options.latin)?;
    let columns = columns(service, list, &read_headings(headings, dialect)?, dialect)?;
    let said = |name: &str| options.everywhere.iter().find(|(path, _)| path == name);
    let units = said(UNITS).and_then(|(_, word)| units_named(word.trim()));
    let all: Vec<ByteRecord> =
        dialect.reader(entries).byte_records().map_while(Result::ok).collect();
    let given = |row: &&ByteRecord| row.iter().any(|cell| !cell.trim_ascii().is_empty());
    let comma = options.decimal_comma.unwrap_or_else(|| {
        dialect.separator != b',' && all.iter().any(|row| has_comma(row, &columns, dialect))
    });
    let mut document = options.everywhere.clone();
    let mut faults = Vec::new();
    for (place, row) in all.iter().filter(given).enumerate() {
        if let Some(detail) = rows::too_long(row, columns.len()) {
            let at = Pointer::of_path(&format!("{list}.{place}"));
            faults.push(RequestFault::new(FaultCode::UnreadableTable, at, detail));
        }
        for (cell, column) in row.iter().zip(&columns) {
            let Column::Member(member) = column else { continue };
            let text = dialect.text(cell).ok_or_else(not_utf_8)?;
            if let Some(detail) = member.grouped(&text).filter(|_| comma) {
                let at = Pointer::of_path(&format!("{list}.{place}.{}", member.path));
                faults.push(RequestFault::new(FaultCode::Ambiguous, at, detail));
            }
            let text = member.in_document(&text, comma, units).into_owned();
            document.push((format!("{list}.{place}.{}", member.path), text));
        }
    }
    if faults.is_empty() { Ok((document, comma)) } else { Err(Problem::with_faults(faults)) }
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

fn columns(
    service: &Service,
    list: &str,
    headings: &[Vec<u8>],
    dialect: Dialect,
) -> Result<Vec<Column>, Problem> {
    let Some(Shape::List(entry, _)) = service.question.member(list) else {
        return Err(Refused::heading(format!("{} has no list {list:?}.", service.name)).into());
    };
    let column = |heading: &Vec<u8>| {
        let text = dialect.text(heading).ok_or_else(not_utf_8)?;
        Ok(Column::of(&text, entry)?)
    };
    headings.iter().map(column).collect()
}

fn has_comma(row: &ByteRecord, columns: &[Column], dialect: Dialect) -> bool {
    row.iter().zip(columns).any(|(cell, column)| match column {
        Column::Member(member) => member.has_comma(&dialect.text(cell).unwrap_or_default()),
        Column::Own => false,
    })
}
