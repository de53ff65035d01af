//! Spreadsheets as files: CSV, Excel workbooks (.xlsx) and OpenDocument (.ods)
//! are read, the first two written.

use crate::file::{self, FileError};
use crate::percentages;
use calamine::{Data, Reader, open_workbook_auto};
use rust_xlsxwriter::{Format, Workbook, XlsxError};
use std::path::Path;
use sumpwright_openapi::table::{Dialect, RowEnds, harmless};
use sumpwright_openapi::tree::BYTE_ORDER_MARK;

/// A sheet: headings, and rows below them.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Sheet {
    /// The first row.
    pub headings: Vec<String>,
    /// The others.
    pub rows: Vec<Vec<Cell>>,
    /// The row number of the first of them in the spreadsheet.
    pub first_row: usize,
}

/// The content of a cell.
#[derive(Debug, Clone, PartialEq)]
pub enum Cell {
    /// An empty cell.
    Blank,
    /// A number.
    Number(f64),
    /// A number shown as a percentage: 0.06 for 6 %.
    Percentage(f64),
    /// Anything else.
    Text(String),
}

/// Number of digits of a whole number that a float keeps.
const WHOLE_DIGITS: usize = 15;

impl Sheet {
    /// Reads a file according to its extension; of a workbook, the sheet named `name` or the
    /// first.
    pub fn read(path: &Path, name: Option<&str>) -> Result<Self, FileError> {
        match ending(path).as_str() {
            "csv" | "txt" | "tsv" => Self::read_csv(path),
            "xlsx" | "ods" => Self::read_workbook(path, name),
            other => Err(FileError::Unfit(format!(
                "{}: files ending in .{other} are not read. Save it as .csv, .xlsx or .ods.",
                path.display()
            ))),
        }
    }

    fn read_csv(path: &Path) -> Result<Self, FileError> {
        let bytes = &file::read(path)?;
        let bytes = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
        if std::str::from_utf8(bytes).is_err() {
            let utf_16 = bytes.starts_with(b"\xff\xfe") || bytes.starts_with(b"\xfe\xff");
            let is = if utf_16 { "in UTF-16" } else { "not in UTF-8" };
            let path = path.display();
            return Err(FileError::Unfit(format!("{path} is {is}. Save it as CSV in UTF-8.")));
        }
        let first = RowEnds::first(bytes).unwrap_or(bytes.len());
        let dialect = Dialect::of(&bytes[..first], false);
        let separator = dialect.map_or(b',', |dialect| dialect.separator);
        Ok(Self::from_separated(bytes, separator, separator != b','))
    }

    /// Reads a table as the service writes it.
    #[must_use]
    pub fn from_csv(table: &[u8]) -> Self {
        Self::from_separated(table, b',', false)
    }

    fn from_separated(table: &[u8], separator: u8, commas: bool) -> Self {
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(separator)
            .has_headers(false)
            .flexible(true)
            .from_reader(table);
        let mut rows = reader.records().map_while(Result::ok);
        let headings = rows.next().map(|row| row.iter().map(str::to_owned).collect());
        let cell = |text: &str| Cell::of(text, commas);
        Self {
            headings: headings.unwrap_or_default(),
            rows: rows.map(|row| row.iter().map(cell).collect()).collect(),
            first_row: 2,
        }
    }

    fn read_workbook(path: &Path, name: Option<&str>) -> Result<Self, FileError> {
        let no_workbook = |_| FileError::NoWorkbook(path.to_owned());
        file::read(path)?;
        let mut workbook = open_workbook_auto(path).map_err(no_workbook)?;
        let names = workbook.sheet_names();
        let name = match name {
            Some(name) if names.iter().any(|known| known == name) => name.to_owned(),
            Some(name) => {
                let known = names.join(", ");
                let detail = format!("There is no sheet {name:?}. There is {known}.");
                return Err(FileError::Unfit(detail));
            }
            None => names
                .first()
                .cloned()
                .ok_or_else(|| FileError::Unfit("The workbook has no sheet.".to_owned()))?,
        };
        let range = workbook.worksheet_range(&name).map_err(no_workbook)?;
        let places = |(row, column): (u32, u32)| (row as usize, column as usize);
        let (top, left) = range.start().map_or((0, 0), places);
        let last = range.end().map_or((0, 0), places);
        let found = match ending(path).as_str() {
            "ods" => percentages::of_ods(path, &name, last),
            _ => percentages::of_xlsx(path, &name),
        };
        let percentages = found.map_err(|error| {
            let path = path.display();
            FileError::Unfit(format!("{path}: how its cells are formatted cannot be read: {error}"))
        })?;
        let cell = |at, data| match Cell::from(data) {
            Cell::Number(number) if percentages.contains(&at) => Cell::Percentage(number),
            cell => cell,
        };
        let mut rows = range.rows();
        let headings = rows.next().unwrap_or_default();
        let headings = headings.iter().map(|heading| Cell::from(heading).text()).collect();
        let rows = (top + 1..).zip(rows).map(|(row, cells)| {
            (left..).zip(cells).map(|(column, data)| cell((row, column), data)).collect()
        });
        Ok(Self { headings, rows: rows.collect(), first_row: top + 2 })
    }

    /// The cells that are percentages, each with its row number in the spreadsheet, its
    /// heading and its content.
    pub fn percentages(&self) -> impl Iterator<Item = (usize, &str, f64)> {
        (self.first_row..).zip(&self.rows).flat_map(|(row, cells)| {
            self.headings.iter().zip(cells).filter_map(move |(heading, cell)| match cell {
                Cell::Percentage(share) => Some((row, heading.as_str(), *share)),
                _ => None,
            })
        })
    }

    /// Some of the rows in the form that the service reads, headings first.
    #[must_use]
    pub fn as_csv(&self, from: usize, to: usize) -> Vec<u8> {
        self.separated(from, to, str::to_owned)
    }

    /// Rows as CSV, headings first, each text as `shown`.
    fn separated(&self, from: usize, to: usize, shown: fn(&str) -> String) -> Vec<u8> {
        let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
        let mut write = |row: &mut dyn Iterator<Item = String>| {
            // Writing into memory does not fail.
            let _ = writer.write_record(row.map(|text| shown(&text)));
        };
        write(&mut self.headings.iter().cloned());
        for row in &self.rows[from..to] {
            let blanks = self.headings.len().saturating_sub(row.len());
            let blanks = std::iter::repeat_n(String::new(), blanks);
            write(&mut row.iter().map(Cell::text).chain(blanks));
        }
        writer.into_inner().unwrap_or_default()
    }

    /// Writes a file according to its extension. Cells that a spreadsheet would execute are
    /// disarmed in a CSV file; in a workbook they are text.
    pub fn write(&self, path: &Path) -> Result<(), FileError> {
        match ending(path).as_str() {
            "csv" => {
                let disarmed = |text: &str| harmless(text).into_owned();
                file::write(path, &self.separated(0, self.rows.len(), disarmed))
            }
            "xlsx" => {
                let workbook = self.as_workbook().map_err(|error| {
                    let path = path.display();
                    FileError::Unfit(format!("The answers do not fit into {path}: {error}."))
                })?;
                file::write(path, &workbook)
            }
            _ => Self::check_ending(path),
        }
    }

    /// Refuses a file whose extension is not one that answers can be written to.
    pub fn check_ending(path: &Path) -> Result<(), FileError> {
        match ending(path).as_str() {
            "csv" | "xlsx" => Ok(()),
            "" => Err(FileError::Unfit(format!(
                "{} has no ending. Name a file that ends in .csv or .xlsx.",
                path.display()
            ))),
            other => Err(FileError::Unfit(format!(
                "{}: answers are not written as .{other}. Name a file that ends in .csv or .xlsx.",
                path.display()
            ))),
        }
    }

    fn as_workbook(&self) -> Result<Vec<u8>, XlsxError> {
        let mut workbook = Workbook::new();
        let page = workbook.add_worksheet();
        let bold = Format::new().set_bold();
        let percent = Format::new().set_num_format("0.##%");
        for (column, heading) in (0..).zip(&self.headings) {
            page.write_string_with_format(0, column, heading, &bold)?;
        }
        for (row, cells) in (1..).zip(&self.rows) {
            for (column, cell) in (0..).zip(cells) {
                match cell {
                    Cell::Blank => {}
                    Cell::Number(number) => drop(page.write_number(row, column, *number)?),
                    Cell::Percentage(share) => {
                        page.write_number_with_format(row, column, *share, &percent)?;
                    }
                    // Text is written as text, whatever it begins with.
                    Cell::Text(text) => drop(page.write_string(row, column, text)?),
                }
            }
        }
        page.set_freeze_panes(1, 0)?;
        page.autofit();
        workbook.save_to_buffer()
    }
}

/// The number before the percent sign.
#[must_use]
pub fn percent(share: f64) -> f64 {
    // In floating point, 100 × 0.07 is more than 7.
    (share * 1e12).round() / 1e10
}

fn ending(path: &Path) -> String {
    path.extension().map(|ending| ending.to_string_lossy().to_lowercase()).unwrap_or_default()
}

impl Cell {
    /// A cell of a CSV file; its number may have a decimal comma.
    fn of(text: &str, commas: bool) -> Self {
        // A text that would change as a number stays text: 007, or a whole number
        // with more digits than a float keeps.
        let number = |text: &str| {
            let whole = text.bytes().all(|byte| byte.is_ascii_digit());
            let found = serde_json::from_str::<f64>(text).ok();
            found.filter(|_| !whole || text.len() <= WHOLE_DIGITS)
        };
        let plain = text.trim();
        if plain.is_empty() {
            Self::Blank
        } else if let Some(found) = number(plain) {
            Self::Number(found)
        } else if let Some(found) = number(&plain.replacen(',', ".", 1)).filter(|_| commas) {
            Self::Number(found)
        } else {
            Self::Text(text.to_owned())
        }
    }

    fn text(&self) -> String {
        match self {
            Self::Blank => String::new(),
            Self::Number(number) => number.to_string(),
            Self::Percentage(share) => format!("{}%", percent(*share)),
            Self::Text(text) => text.clone(),
        }
    }
}

impl From<&Data> for Cell {
    fn from(data: &Data) -> Self {
        match data {
            Data::Empty => Self::Blank,
            Data::Int(whole) => Self::Text(whole.to_string()),
            Data::Float(number) => Self::Number(*number),
            Data::String(text) if text.trim().is_empty() => Self::Blank,
            // Dates, booleans and errors as a person would write them.
            other => match calamine::DataType::as_datetime(other) {
                Some(moment) => Self::Text(format!("{}Z", moment.to_string().replace(' ', "T"))),
                None => Self::Text(other.to_string()),
            },
        }
    }
}
