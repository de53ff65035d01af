//! Workbooks: the values of a sheet, and what else its cells are.

use super::marks::{At, Marks};
use super::{Cell, Row, Sheet, Source, ending, ods, xlsx};
use crate::file::{self, FileError};
use calamine::{Data, Range, Reader, Sheets, open_workbook_auto};
use std::fs::File;
use std::io::BufReader;
use std::path::Path;

fn open(path: &Path) -> Result<Sheets<BufReader<File>>, FileError> {
    drop(file::open(path)?);
    open_workbook_auto(path).map_err(|_| FileError::NoWorkbook(path.to_owned()))
}

/// The names of the sheets of a workbook.
pub(super) fn names(path: &Path) -> Result<Vec<String>, FileError> {
    Ok(open(path)?.sheet_names())
}

/// Reads a sheet of a workbook.
pub(super) fn read(
    path: &Path,
    name: Option<&str>,
    headings_in: Option<usize>,
) -> Result<Sheet, FileError> {
    let unfit = |why: String| FileError::Unfit(format!("{} {why}", path.display()));
    let mut workbook = open(path)?;
    let names = workbook.sheet_names();
    let name = match name {
        Some(name) if names.iter().any(|known| known == name) => name.to_owned(),
        Some(name) => {
            let known = names.join(", ");
            return Err(unfit(format!("has no sheet {name:?}. It has {known}.")));
        }
        None => names.first().cloned().ok_or_else(|| unfit("has no sheet.".to_owned()))?,
    };
    let range = workbook.worksheet_range(&name);
    let range = range.map_err(|_| FileError::NoWorkbook(path.to_owned()))?;
    let last = range.end().map_or((0, 0), place);
    let marks = match ending(path).as_str() {
        "ods" => ods::marks(path, &name, last),
        _ => xlsx::marks(path, &name),
    };
    let marks =
        marks.map_err(|error| unfit(format!("has cells whose format cannot be read: {error}.")))?;
    let (rows, left) = rows(&range, &marks);
    let source = Source::Workbook { path: path.to_owned(), name: name.clone(), left };
    Sheet::of_rows(rows, headings_in, source)
        .map_err(|why| unfit(format!("in sheet {name:?} {why}")))
}

fn place((row, column): (u32, u32)) -> At {
    (row as usize, column as usize)
}

/// The rows of a sheet from the first to the last that has something in it, and the first
/// column.
fn rows(range: &Range<Data>, marks: &Marks) -> (Vec<Row>, usize) {
    let (Some(first), Some(last)) = (range.start().map(place), range.end().map(place)) else {
        return (Vec::new(), 0);
    };
    // Formulas without values count for nothing with the reader of values.
    let bottom = marks.unstored.iter().map(|at| at.0).max().unwrap_or(0).max(last.0);
    let cell = |at: At| {
        let value = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
        let cell = range.get_value((value(at.0), value(at.1))).map_or(Cell::Blank, Cell::from);
        if let Some(error) = marks.errors.get(&at) {
            return Cell::Error(error.clone());
        }
        match cell {
            Cell::Number(number) if marks.percentages.contains(&at) => Cell::Percentage(number),
            Cell::Blank if marks.unstored.contains(&at) => Cell::Unstored,
            Cell::Blank => marks.merged_with(at).map_or(Cell::Blank, Cell::Merged),
            cell => cell,
        }
    };
    let row = |row: usize| {
        let places = (first.1..=last.1).map(|column| (row, column));
        let style = |at: At| marks.styles.get(&at).copied().unwrap_or(0);
        Row {
            place: row + 1,
            cells: places.clone().map(cell).collect(),
            styles: places.map(style).collect(),
            ..Row::default()
        }
    };
    ((first.0..=bottom).map(row).collect(), first.1)
}
