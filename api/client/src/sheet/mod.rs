//! Spreadsheets as files: CSV, Excel workbooks (.xlsx, .xlsm) and OpenDocument (.ods), each row
//! with its place.

mod cell;
mod marks;
mod moment;
mod ods;
mod separated;
mod workbook;
mod xlsx;
pub(crate) mod xml;

pub use cell::Cell;
pub use separated::Notation;
pub(crate) use separated::of_service;

use crate::file::FileError;
use std::path::{Path, PathBuf};

/// A sheet: headings, and rows below them.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// The rows above the headings: a title, a note.
    pub above: Vec<Row>,
    /// The row with the headings.
    pub head: Row,
    /// The headings.
    pub headings: Vec<String>,
    /// The rows below them, blank ones among them.
    pub rows: Vec<Row>,
    /// Where all that is from.
    pub source: Source,
}

/// A row and its place.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Row {
    /// Its number in the spreadsheet, counted from 1.
    pub place: usize,
    /// Its cells.
    pub cells: Vec<Cell>,
    /// The bytes of a row of a file of text, without the end of the line.
    pub(crate) bytes: Vec<u8>,
    /// The number of the style of each cell of an Excel workbook.
    pub(crate) styles: Vec<usize>,
}

/// Where a sheet is from.
#[derive(Debug, Clone, PartialEq)]
pub enum Source {
    /// A file of text in this notation.
    Text(Notation),
    /// A sheet of a workbook.
    Workbook {
        /// The file.
        path: PathBuf,
        /// The name of the sheet.
        name: String,
        /// The column of the first cells, counted from 0.
        left: usize,
    },
}

impl Row {
    /// Whether nothing is in it.
    #[must_use]
    pub fn is_blank(&self) -> bool {
        self.cells.iter().all(Cell::is_blank)
    }
}

impl Sheet {
    /// Reads a file according to its extension; of a workbook, the sheet named `name` or the
    /// first. The headings are in the first row with something in it, or in the one of the
    /// number `headings_in`.
    pub fn read(
        path: &Path,
        name: Option<&str>,
        headings_in: Option<usize>,
    ) -> Result<Self, FileError> {
        let ending = ending(path);
        match ending.as_str() {
            "csv" | "txt" | "tsv" if name.is_some() => Err(FileError::Unfit(format!(
                "{} has no sheets. Leave out --sheet.",
                path.display()
            ))),
            "csv" | "txt" | "tsv" => separated::read(path, headings_in),
            "xlsx" | "xlsm" | "ods" => workbook::read(path, name, headings_in),
            _ => Err(FileError::Unfit(format!(
                "{} is not read: its ending is none of .csv, .xlsx, .xlsm and .ods. Open it in a \
                 spreadsheet and save it as .xlsx or .csv.",
                path.display()
            ))),
        }
    }

    /// The other sheets of its workbook.
    pub(crate) fn others(&self) -> Vec<Self> {
        let Source::Workbook { path, name, .. } = &self.source else { return Vec::new() };
        let names = workbook::names(path).unwrap_or_default();
        let others = names.iter().filter(|other| *other != name);
        others.filter_map(|other| workbook::read(path, Some(other), None).ok()).collect()
    }

    fn of_rows(
        mut rows: Vec<Row>,
        headings_in: Option<usize>,
        source: Source,
    ) -> Result<Self, String> {
        let at = match headings_in {
            None => rows.iter().position(|row| !row.is_blank()).ok_or_else(|| {
                "has no headings. Its first row names the members of the question.".to_owned()
            })?,
            Some(number) => {
                let at = rows.iter().position(|row| row.place == number && !row.is_blank());
                at.ok_or_else(|| format!("has no headings in row {number}, which is empty."))?
            }
        };
        let below = rows.split_off(at + 1);
        let head = rows.pop().unwrap_or_default();
        let headings = head.cells.iter().map(|cell| cell.text().into_owned()).collect();
        Ok(Self { above: rows, head, headings, rows: below, source })
    }

    /// What its file of text is written like; a plain one if it is from a workbook.
    #[must_use]
    pub fn notation(&self) -> Notation {
        match &self.source {
            Source::Text(notation) => notation.clone(),
            Source::Workbook { .. } => Notation::default(),
        }
    }

    /// A row of a file of text, parted as if it were the first: that one may have another
    /// separator, or none.
    pub(crate) fn parted_by_itself(&self, row: &Row) -> Option<Row> {
        match &self.source {
            Source::Text(notation) => separated::parted_by_itself(row, notation),
            Source::Workbook { .. } => None,
        }
    }

    /// The letters of a column in a spreadsheet.
    pub(crate) fn letters(&self, column: usize) -> String {
        let left = match self.source {
            Source::Workbook { left, .. } => left,
            Source::Text(_) => 0,
        };
        letters(left + column)
    }
}

/// The letters of a column, counted from 0.
pub(crate) fn letters(column: usize) -> String {
    let (before, last) = (column / 26, column % 26);
    let last = char::from(b'A' + u8::try_from(last).unwrap_or_default());
    if before == 0 { last.to_string() } else { format!("{}{last}", letters(before - 1)) }
}

/// The extension of a file in small letters.
pub(crate) fn ending(path: &Path) -> String {
    path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn columns_have_letters() {
        for (column, expected) in
            [(0, "A"), (25, "Z"), (26, "AA"), (27, "AB"), (701, "ZZ"), (702, "AAA")]
        {
            assert_eq!(letters(column), expected);
            assert_eq!(xlsx::column_of(&format!("{expected}12")), Some(column + 1));
        }
        assert_eq!(xlsx::column_of("12"), None);
    }
}
