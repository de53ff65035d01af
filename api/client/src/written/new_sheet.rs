//! The answers as a new sheet of the Excel workbook that was read. Its own cells keep their
//! styles there; its other sheets stay byte for byte as they are.

use super::{Answered, Line, package};
use crate::file::{self, FileError};
use crate::sheet::{Cell, Sheet, Source, ending, letters};
use rust_xlsxwriter::ExcelDateTime;
use std::fmt::Write;
use std::path::Path;

/// Days between the two beginnings of counting.
const FROM_1900_TO_1904: f64 = 1462.0;
/// So many characters the name of a sheet may have.
const LONGEST_NAME: usize = 31;
/// So many a cell may have.
const LONGEST_TEXT: usize = 32_767;

pub(super) fn no_workbook() -> FileError {
    FileError::Unfit(
        "A new sheet goes into an Excel workbook, .xlsx or .xlsm. Leave out --new-sheet, and name \
         a new file with -o."
            .to_owned(),
    )
}

/// Refuses a workbook that cannot have a new sheet called `name`.
pub fn check(sheet: &Sheet, name: &str) -> Result<(), FileError> {
    let path = match &sheet.source {
        Source::Workbook { path, .. } if ["xlsx", "xlsm"].contains(&ending(path).as_str()) => path,
        _ => return Err(no_workbook()),
    };
    let content = file::read(path)?;
    let facts = package::facts(&content).map_err(|error| unfit(path, &error.to_string()))?;
    if let Some(closed) = facts.closed {
        return Err(unfit(path, closed));
    }
    let is_taken = facts.names.iter().any(|own| own.to_lowercase() == name.to_lowercase());
    let refused = if is_taken {
        format!("There is a sheet {name:?} already, which stays as it is. Name another.")
    } else if name.trim().is_empty()
        || name.chars().count() > LONGEST_NAME
        || name.contains(['[', ']', ':', '*', '?', '/', '\\'])
        || name.starts_with('\'')
        || name.ends_with('\'')
        || name.chars().any(char::is_control)
    {
        format!(
            "{name:?} is no name of a sheet. It has 1 to {LONGEST_NAME} characters, none of which \
             is one of []:*?/\\."
        )
    } else {
        return Ok(());
    };
    Err(FileError::Unfit(refused))
}

fn unfit(path: &Path, why: &str) -> FileError {
    FileError::Unfit(format!(
        "{} cannot have a new sheet: {why}. Leave out --new-sheet, and name a new file with -o.",
        path.display()
    ))
}

/// The workbook with the answers on a new sheet.
pub(super) fn with_answers(
    path: &Path,
    sheet: &Sheet,
    answered: &Answered,
    name: &str,
) -> Result<Vec<u8>, FileError> {
    check(sheet, name)?;
    let content = file::read(path)?;
    let cannot = |error: Box<dyn std::error::Error>| unfit(path, &error.to_string());
    let facts = package::facts(&content).map_err(cannot)?;
    let page = worksheet(sheet, answered, &facts);
    let page = page.ok_or_else(|| unfit(path, "an answer is longer than a cell may be"))?;
    let written = package::with_sheet(&content, &facts, name, page.as_bytes()).map_err(cannot)?;
    // It may come to stand in the place of the workbook, so it has to be one.
    let again = package::facts(&written).map_err(cannot)?;
    match again.names.split_last() {
        Some((last, others)) if last == name && others == facts.names => Ok(written),
        _ => Err(unfit(path, "its list of sheets is not understood")),
    }
}

/// The new sheet; none if a text is too long for a cell.
fn worksheet(sheet: &Sheet, answered: &Answered, facts: &package::Facts) -> Option<String> {
    let lines = answered.lines(sheet);
    let head = lines.iter().find(|line| line.is_head).map_or(1, |line| line.place);
    let mut page = format!(
        "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n<worksheet xmlns=\"{}\">\
         <sheetViews><sheetView workbookViewId=\"0\"><pane ySplit=\"{head}\" topLeftCell=\"A{}\" \
         activePane=\"bottomLeft\" state=\"frozen\"/></sheetView></sheetViews><sheetData>",
        facts.namespace,
        head + 1
    );
    for line in &lines {
        // Writing into a text does not fail.
        let _ = write!(page, "<row r=\"{}\">", line.place);
        let cells = line.cells(sheet, sheet.headings.len(), false);
        for (column, cell) in cells.iter().enumerate() {
            let at = format!("{}{}", letters(column), line.place);
            write_cell(cell, &at, style(line, sheet, column), facts.from_1904, &mut page)?;
        }
        page.push_str("</row>");
    }
    page.push_str("</sheetData></worksheet>");
    Some(page)
}

/// The number of the style of a cell: its own; of an answer's heading that of the last one.
fn style(line: &Line<'_>, sheet: &Sheet, column: usize) -> usize {
    let Some(own) = line.own else { return 0 };
    let last = sheet.headings.len().saturating_sub(1);
    let column = if line.is_head { column.min(last) } else { column };
    own.styles.get(column).copied().unwrap_or(0)
}

fn write_cell(
    cell: &Cell,
    at: &str,
    style: usize,
    from_1904: bool,
    page: &mut String,
) -> Option<()> {
    let (kind, content) = match cell {
        Cell::Blank | Cell::Unstored | Cell::Merged(_) if style == 0 => return Some(()),
        Cell::Blank | Cell::Unstored | Cell::Merged(_) => ("", String::new()),
        Cell::Number(number) | Cell::Percentage(number) => ("", format!("<v>{number}</v>")),
        Cell::Moment(moment) => {
            match ExcelDateTime::parse_from_str(&moment.replacen(' ', "T", 1)) {
                Ok(moment) => {
                    let before = if from_1904 { FROM_1900_TO_1904 } else { 0.0 };
                    ("", format!("<v>{}</v>", moment.to_excel() - before))
                }
                Err(_) => (" t=\"inlineStr\"", inline(moment)?),
            }
        }
        Cell::Error(error) => (" t=\"e\"", format!("<v>{}</v>", quick_xml::escape::escape(error))),
        Cell::Text(text) => (" t=\"inlineStr\"", inline(text)?),
    };
    let style = if style == 0 { String::new() } else { format!(" s=\"{style}\"") };
    // Writing into a text does not fail.
    let _ = write!(page, "<c r=\"{at}\"{style}{kind}>{content}</c>");
    Some(())
}

/// A text within its cell.
fn inline(text: &str) -> Option<String> {
    if text.encode_utf16().count() > LONGEST_TEXT {
        return None;
    }
    // What XML cannot hold is left out.
    let allowed = |letter: &char| !letter.is_control() || matches!(letter, '\t' | '\n' | '\r');
    let text: String = text.chars().filter(allowed).collect();
    let text = quick_xml::escape::escape(text.as_str()).replace('\r', "&#13;");
    Some(format!("<is><t xml:space=\"preserve\">{text}</t></is>"))
}
