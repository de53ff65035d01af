//! A table whose first row has no headings: a title stands above them, or there are none.

use super::dialect::{Dialect, RowEnds};
use super::heading::Column;
use super::refused::Refused;
use csv::ByteRecord;
use sumpwright_engine::document::Shape;

/// Headings are looked for in so many rows.
const LOOKED_AT: usize = 20;

/// The row among `rows`, counted from 1, most of whose cells name members; the one with most of
/// them where there are several.
pub(super) fn headings_below(rows: &[u8], dialect: Dialect, question: &Shape) -> Option<usize> {
    let (mut at, mut best) = (0, (0, None));
    for number in 1..=LOOKED_AT {
        let length = RowEnds::first(&rows[at..]).unwrap_or(rows.len() - at);
        let row = &rows[at..at + length];
        at += length;
        // The row above may have another separator, or none.
        let Ok(dialect) = Dialect::of(row, dialect.latin) else { return None };
        let mut cells = ByteRecord::new();
        if !dialect.reader(row).read_byte_record(&mut cells).unwrap_or(false) {
            continue;
        }
        let named = cells.iter().filter(|cell| {
            let text = dialect.text(cell).unwrap_or_default();
            matches!(Column::of(&text, question), Ok(Column::Member(_)))
        });
        let (named, filled) = (named.count(), cells.iter().filter(|cell| !cell.is_empty()).count());
        if named > best.0 && 2 * named > filled {
            best = (named, Some(number));
        }
    }
    best.1
}

/// The refusal of a table whose row `above` names no member, while row `found` has headings.
pub(super) fn refused(above: usize, found: Option<usize>, first: &str) -> Refused {
    let none = format!("No heading in row {above} names a member of the question.");
    Refused::heading(match found {
        Some(row) => format!(
            "{none} Row {row} has the headings: say so with headings_in_row={row} in the query \
             (--headings-in-row {row} in the client), or delete the rows above it."
        ),
        None => format!(
            "{none} Head each column with the path or the title of a member, such as {first}."
        ),
    })
}
