//! A table that is one list of one document: a log of readings, a set of samples.

use super::cells::plain_number;
use super::dialect::{BYTE_ORDER_MARK, Dialect, RowEnds};
use super::heading::{Column, Kind};
use super::{Options, Refused, not_utf_8, read_headings, rows};
use crate::envelope::UNITS;
use crate::flat::LIST_MOST;
use crate::problem::{Fault, Problem, ProblemKind};
use crate::service::Service;
use crate::shape::Shape;

/// The document that a table stands for, in its flat form: a row an entry of the
/// list called `list`, with what the query says around it. Rows without
/// anything in them are passed over, and so are columns of the caller's own.
pub fn as_list(
    service: &Service,
    list: &str,
    table: &[u8],
    options: &Options,
) -> Result<Vec<(String, String)>, Problem> {
    let table = table.strip_prefix(BYTE_ORDER_MARK).unwrap_or(table);
    let (headings, entries) = table.split_at(RowEnds::first(table).unwrap_or(table.len()));
    let dialect = Dialect::of(headings, options.latin)?;
    let columns = columns(service, list, &read_headings(headings, dialect)?, dialect)?;
    let said = |name: &str| options.everywhere.iter().find(|(path, _)| path == name);
    let units = said(UNITS).and_then(|(_, word)| rows::system(word.trim()));
    let mut document = options.everywhere.clone();
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(dialect.separator)
        .has_headers(false)
        .flexible(true)
        .from_reader(entries);
    let all: Vec<csv::ByteRecord> = reader.byte_records().map_while(Result::ok).collect();
    let given = |row: &&csv::ByteRecord| row.iter().any(|cell| !cell.trim_ascii().is_empty());
    let commas = options.decimal_comma.unwrap_or_else(|| {
        dialect.separator != b',' && all.iter().any(|row| has_comma(row, &columns, dialect))
    });
    for (place, row) in all.iter().filter(given).enumerate() {
        if place >= LIST_MOST {
            let detail = format!("This list is too long: {LIST_MOST} entries are the most.");
            let fault = Fault::new(format!("/{list}"), detail);
            return Err(Problem::new(ProblemKind::OutOfRange, fault));
        }
        for (cell, column) in row.iter().zip(&columns) {
            let Column::Member(member) = column else { continue };
            let text = dialect.text(cell).ok_or_else(not_utf_8)?;
            let text = match (member.kind, member.units, units) {
                (Kind::Number(row), own, units) => {
                    let plain = plain_number(&text, commas);
                    match (row, own, units, plain.parse::<f64>()) {
                        (Some(row), Some(own), Some(units), Ok(given)) if own != units => {
                            let metric = row.units.to_metric(given, own);
                            row.units.from_metric(metric, units).to_string()
                        }
                        _ => plain.into_owned(),
                    }
                }
                _ => text.into_owned(),
            };
            document.push((format!("{list}.{place}.{}", member.path), text));
        }
    }
    Ok(document)
}

fn columns(
    service: &Service,
    list: &str,
    headings: &[Vec<u8>],
    dialect: Dialect,
) -> Result<Vec<Column>, Problem> {
    let Some(Shape::List(entry)) = service.question.member(list) else {
        return Err(Refused::heading(format!("{} has no list {list:?}.", service.name)).into());
    };
    let column = |heading: &Vec<u8>| {
        let text = dialect.text(heading).ok_or_else(not_utf_8)?;
        Ok(Column::of(&text, entry)?)
    };
    headings.iter().map(column).collect()
}

fn has_comma(row: &csv::ByteRecord, columns: &[Column], dialect: Dialect) -> bool {
    row.iter().zip(columns).any(|(cell, column)| {
        let Column::Member(member) = column else { return false };
        let text = dialect.text(cell).unwrap_or_default();
        matches!(member.kind, Kind::Number(_))
            && text.contains(',')
            && plain_number(&text, true).parse::<f64>().is_ok()
    })
}
