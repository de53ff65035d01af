//! The answers as a new Excel workbook, each row where it stood.

use super::Answered;
use crate::sheet::{Cell, Sheet};
use rust_xlsxwriter::{ExcelDateTime, Format, Workbook, Worksheet, XlsxError};

/// A workbook with one sheet.
pub(super) fn written(sheet: &Sheet, answered: &Answered) -> Result<Vec<u8>, XlsxError> {
    let mut workbook = Workbook::new();
    let page = workbook.add_worksheet();
    let formats = Formats::new();
    let mut below_head = 1;
    for line in answered.lines(sheet) {
        let row = u32::try_from(line.place - 1).map_err(|_| XlsxError::RowColumnLimitError)?;
        let cells = line.cells(sheet, sheet.headings.len(), answered.decimal_comma());
        for (column, cell) in (0..).zip(&cells) {
            formats.write(page, row, column, cell, line.is_head)?;
        }
        if line.is_head {
            below_head = row + 1;
            if !cells.is_empty() {
                page.set_repeat_rows(row, row)?;
            }
        }
    }
    page.set_freeze_panes(below_head, 0)?;
    page.set_landscape();
    page.set_print_fit_to_pages(1, 0);
    page.autofit();
    workbook.save_to_buffer()
}

/// How cells are shown.
pub(crate) struct Formats {
    head: Format,
    percentage: Format,
    day: Format,
    moment: Format,
}

impl Formats {
    pub(crate) fn new() -> Self {
        let format = |code: &str| Format::new().set_num_format(code);
        Self {
            head: Format::new().set_bold(),
            percentage: format("0.##%"),
            day: format("yyyy-mm-dd"),
            moment: format("yyyy-mm-dd hh:mm"),
        }
    }

    /// Writes a cell.
    pub(crate) fn write(
        &self,
        page: &mut Worksheet,
        row: u32,
        column: u16,
        cell: &Cell,
        is_head: bool,
    ) -> Result<(), XlsxError> {
        match cell {
            Cell::Blank | Cell::Unstored | Cell::Merged(_) => {}
            Cell::Number(number) => drop(page.write_number(row, column, *number)?),
            Cell::Percentage(share) => {
                page.write_number_with_format(row, column, *share, &self.percentage)?;
            }
            Cell::Moment(moment) => {
                let format = if moment.ends_with("00:00:00") { &self.day } else { &self.moment };
                let moment = ExcelDateTime::parse_from_str(&moment.replacen(' ', "T", 1))?;
                page.write_datetime_with_format(row, column, &moment, format)?;
            }
            // Text is written as text, whatever it begins with.
            Cell::Text(text) | Cell::Error(text) if is_head => {
                page.write_string_with_format(row, column, text, &self.head)?;
            }
            Cell::Text(text) | Cell::Error(text) => drop(page.write_string(row, column, text)?),
        }
        Ok(())
    }
}
