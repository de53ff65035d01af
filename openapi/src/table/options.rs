//! The options of a table in a query.

use std::ops::RangeInclusive;

/// The rows that may have the headings.
pub const HEADINGS_IN: RangeInclusive<usize> = 1..=100;

/// The options of a table in a query.
#[derive(Debug, Clone, Default)]
pub struct TableOptions {
    /// Members that are the same for every row, by path.
    pub everywhere: Vec<(String, String)>,
    /// Columns of the answer. Default: those of the answers to the first rows.
    pub columns: Option<Vec<String>>,
    /// Whether the encoding is windows-1252.
    pub latin: bool,
    /// Whether numbers have a decimal comma. Default: as in the first rows.
    pub decimal_comma: Option<bool>,
    /// The row that has the headings, counted from 1. Default: the first.
    pub headings_in_row: Option<usize>,
}

impl TableOptions {
    /// So many rows stand above the headings.
    #[must_use]
    pub fn rows_above(&self) -> usize {
        self.headings_in_row.map_or(0, |row| row.saturating_sub(1))
    }
}
