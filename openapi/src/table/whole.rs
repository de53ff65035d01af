//! Answers a whole table that is in memory.

use super::{RowEnds, Table, TableOptions, answered, as_list};
use crate::problem::Problem;
use crate::service::Service;
use std::sync::Arc;

/// Answers a table as CSV: each row is a document, or the whole table is the question's one list.
pub fn answer_whole(
    service: &Arc<Service>,
    table: &[u8],
    options: &TableOptions,
) -> Result<Vec<u8>, Problem> {
    if let Some(list) = service.list() {
        let asked = as_list(service, list, table, options)?;
        let record = service.answer_flat(asked.pairs()).map_err(|problem| asked.told(problem))?;
        return Ok(answered(service, &record, asked.decimal_comma));
    }
    let table = &table[RowEnds::above(table, options.rows_above()).unwrap_or(table.len())..];
    let first = RowEnds::first(table).unwrap_or(table.len());
    let (headings, rows) = table.split_at(first);
    let mut ends = RowEnds::below(headings);
    let last = ends.last(rows).unwrap_or(0);
    // A row with an unclosed quotation mark gets no answer.
    let whole = if ends.is_open() { last } else { rows.len() };
    let (rows, open) = rows.split_at(whole);
    let table = Table::open(Arc::clone(service), headings, rows, options)?;
    let mut answered = table.heading();
    table.answer(rows, &mut answered);
    if !open.is_empty() {
        table.answer_open(open, &mut answered);
    }
    Ok(answered)
}
