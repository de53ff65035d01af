//! A table whose headings have been read, and how its cells are written.

use super::dialect::Dialect;
use crate::row::cells::Source;
use crate::row::guard;
use crate::row::leaves::Columns;
use crate::row::member::Member;
use crate::service::Service;
use std::borrow::Cow;
use std::sync::Arc;
use sumpwright_engine::document::Tree;
use sumpwright_engine::quantity::UnitSystem;

/// A table whose headings have been read, ready to answer rows.
pub struct Table {
    pub(super) service: Arc<Service>,
    pub(super) dialect: Dialect,
    pub(super) headings: Vec<Vec<u8>>,
    pub(super) members: Vec<Member>,
    /// For each member the cell that holds it, or its text if it is the same in every row.
    pub(super) sources: Vec<Source>,
    pub(super) tree: Tree,
    pub(super) units: Source,
    /// The system of units that the headings say all numbers are typed in, if it is one.
    pub(super) typed_in: Option<UnitSystem>,
    pub(super) answers: Answers,
}

/// The answer's columns.
pub(super) struct Answers {
    pub(super) paths: Vec<String>,
    pub(super) columns: Columns,
}

impl Table {
    /// A cell of the caller's own, in UTF-8, disarmed if a spreadsheet would
    /// execute it.
    pub(super) fn harmless<'c>(&self, cell: &'c [u8]) -> Cow<'c, [u8]> {
        // Most cells begin with a letter or a digit and need no further check.
        if cell.is_ascii() && cell.first().is_none_or(u8::is_ascii_alphanumeric) {
            return Cow::Borrowed(cell);
        }
        let text = self.dialect.text(cell).or_else(|| self.dialect.in_latin().text(cell));
        let text = text.unwrap_or_default();
        Cow::Owned(guard::harmless(&text).into_owned().into_bytes())
    }

    pub(super) fn writer(&self, into: Vec<u8>) -> csv::Writer<Vec<u8>> {
        csv::WriterBuilder::new().delimiter(self.dialect.separator).flexible(true).from_writer(into)
    }
}
