//! The answers of a sheet as a file of text, as a new workbook, or as a new sheet of the
//! workbook that was read.

mod csv;
mod new_sheet;
mod package;
mod workbook;

use crate::file::{self, FileError};
use crate::log::LogAnswer;
use crate::rows::Answers;
use crate::sheet::{Cell, Row, Sheet, Source, ending};
use std::path::{Path, PathBuf};

pub use new_sheet::check as check_new_sheet;
pub(crate) use workbook::Formats;

/// The answers to a sheet.
#[derive(Debug)]
pub enum Answered {
    /// One to each row.
    Rows(Answers),
    /// One to all of them.
    Log(LogAnswer),
}

/// A line of what is written.
struct Line<'a> {
    /// Its number in the spreadsheet, counted from 1.
    place: usize,
    /// The row of the sheet that was read, if one stands in it.
    own: Option<&'a Row>,
    /// The cells after it.
    more: Vec<&'a str>,
    is_head: bool,
}

impl Answered {
    /// The lines to be written.
    fn lines<'a>(&'a self, sheet: &'a Sheet) -> Vec<Line<'a>> {
        match self {
            Self::Rows(answers) => {
                let line = |row: &'a Row, more: &'a [String], is_head| Line {
                    place: row.place,
                    own: Some(row),
                    more: more.iter().map(String::as_str).collect(),
                    is_head,
                };
                let above = sheet.above.iter().map(|row| line(row, &[], false));
                let head = line(&sheet.head, &answers.headings, true);
                let replies = answers.rows.iter().map(|reply| reply.as_deref().unwrap_or_default());
                let rows = sheet.rows.iter().zip(replies);
                let rows = rows.map(|(row, reply)| line(row, reply, false));
                above.chain([head]).chain(rows).collect()
            }
            Self::Log(answer) => {
                let values = answer.values.iter();
                let values = values.map(|(name, value)| vec![name.as_str(), value.as_str()]);
                let lines = std::iter::once(vec!["name", "value"]).chain(values);
                let line =
                    |(above, more)| Line { place: above + 1, own: None, more, is_head: above == 0 };
                lines.enumerate().map(line).collect()
            }
        }
    }

    fn decimal_comma(&self) -> bool {
        match self {
            Self::Rows(answers) => answers.decimal_comma,
            Self::Log(answer) => answer.decimal_comma,
        }
    }
}

impl Line<'_> {
    /// Its cells as a workbook holds them, with `width` cells before those of the answer.
    fn cells(&self, sheet: &Sheet, width: usize, commas: bool) -> Vec<Cell> {
        let is_text = matches!(sheet.source, Source::Text(_));
        let typed = |cell: &Cell| match cell {
            Cell::Text(text) if is_text && !self.is_head => Cell::typed(text, commas),
            cell => cell.clone(),
        };
        let mut cells: Vec<Cell> =
            self.own.iter().flat_map(|row| row.cells.iter().map(typed)).collect();
        if !self.more.is_empty() {
            if self.own.is_some() {
                cells.resize(width, Cell::Blank);
            }
            let more = self.more.iter();
            cells.extend(more.map(|text| Cell::typed(text, commas)));
        }
        cells
    }
}

/// What most files are to hold, as [`check_ending`] says it.
pub(crate) const ANSWERS: &str = "answers are";

/// Refuses a file whose extension is not one that is written, with what it was to hold: "answers are".
pub(crate) fn check_ending(path: &Path, what: &str) -> Result<(), FileError> {
    match ending(path).as_str() {
        "csv" | "xlsx" => Ok(()),
        "" => Err(FileError::Unfit(format!(
            "{} has no ending. Name a file that ends in .csv or .xlsx.",
            path.display()
        ))),
        other => Err(FileError::Unfit(format!(
            "{}: {what} not written as .{other}. Name a file that ends in .csv or .xlsx; Excel and \
             LibreOffice open both.",
            path.display()
        ))),
    }
}

/// Writes a new file according to its extension: the file that was written, which has another
/// name where this one cannot be written any more.
pub fn to_file(path: &Path, sheet: &Sheet, answered: &Answered) -> Result<PathBuf, FileError> {
    check_ending(path, ANSWERS)?;
    let content = match ending(path).as_str() {
        "csv" => csv::written(sheet, answered),
        _ => workbook::written(sheet, answered).map_err(|error| {
            let path = path.display();
            FileError::Unfit(format!("The answers do not fit into {path}: {error}."))
        })?,
    };
    file::write_here_or_beside(path, &content)
}

/// Writes the workbook that was read, with the answers on a new sheet called `name`, to
/// `output`, or in its own place. All else in it stays as it is.
pub fn to_new_sheet(
    sheet: &Sheet,
    answered: &Answered,
    name: &str,
    output: Option<&Path>,
) -> Result<PathBuf, FileError> {
    let Source::Workbook { path, .. } = &sheet.source else {
        return Err(new_sheet::no_workbook());
    };
    let content = new_sheet::with_answers(path, sheet, answered, name)?;
    match output {
        Some(output) => file::write_here_or_beside(output, &content),
        None => file::replace(path, &content).map(|()| path.clone()),
    }
}
