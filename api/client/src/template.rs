//! A sheet to fill in: the headings of a calculation's example in the words of a shop, their
//! units, what may stand below them, and the example itself as the first row.

use crate::called::{called, quoted};
use crate::file::{self, FileError};
use crate::rows::UNITS;
use crate::sheet::{Cell, ending};
use crate::written::Formats;
use rust_xlsxwriter::{
    DataValidation, DataValidationErrorStyle, DataValidationRule, Workbook, Worksheet, XlsxError,
};
use serde_json::Value;
use std::path::Path;
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_openapi::flat;
use sumpwright_openapi::service::Service;
use sumpwright_openapi::table::{ColumnKind, Template, TemplateColumn};
use sumpwright_openapi::tree::BYTE_ORDER_MARK;

/// A sheet to fill in.
#[derive(Debug)]
pub struct SheetToFillIn {
    columns: Vec<TemplateColumn>,
    around: Vec<TemplateColumn>,
    rows: usize,
    name: &'static str,
    summary: &'static str,
    units: UnitSystem,
}

/// Digits of the example's numbers in US units.
const DIGITS: i32 = 4;
/// Rows that are ready to be filled in.
const ROWS: u32 = 1000;
/// Below it a percentage is rather a number with a percent sign: 6% is 0.06.
const UNUSUALLY_WEAK: f64 = 0.5;
/// So many characters the hint at a cell may have.
const LONGEST_HINT: usize = 255;
/// So many its title.
const LONGEST_TITLE: usize = 32;
/// So many the words to choose from may have, with a comma after each.
const LONGEST_CHOICE: usize = 255;

impl SheetToFillIn {
    /// The sheet to fill in for a calculation, in a system of units.
    ///
    /// ```
    /// use sumpwright_client::{Client, UnitSystem, template::SheetToFillIn};
    ///
    /// let client = Client::in_process();
    /// let folder = tempfile::tempdir()?;
    /// let path = folder.path().join("readings.csv");
    /// SheetToFillIn::of(client.service("concentration")?, UnitSystem::Us).write(&path)?;
    /// assert!(std::fs::read_to_string(&path)?.contains("Brix"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn of(service: &Service, units: UnitSystem) -> Self {
        let Template { columns, around, rows } = Template::of(service, units);
        let is_wanted = |column: &TemplateColumn| {
            column.is_required || column.examples.iter().any(Option::is_some)
        };
        let is_said = |column: &TemplateColumn| {
            column.examples.iter().any(Option::is_some)
                && ![UNITS, "reference"].contains(&column.path.as_str())
        };
        Self {
            columns: columns.into_iter().filter(is_wanted).collect(),
            around: around.into_iter().filter(is_said).collect(),
            rows,
            name: service.name,
            summary: service.summary,
            units,
        }
    }

    fn units_word(&self) -> &'static str {
        match self.units {
            UnitSystem::Metric => "metric",
            UnitSystem::Us => "us",
        }
    }

    /// A value of the example as a cell holds it.
    fn cell(&self, column: &TemplateColumn, row: usize) -> Cell {
        match column.examples.get(row).and_then(Option::as_ref) {
            None => Cell::Blank,
            Some(Value::Number(number)) => {
                let number = number.as_f64().unwrap_or_default();
                Cell::Number(match self.units {
                    UnitSystem::Metric => number,
                    UnitSystem::Us => round_to(number, DIGITS),
                })
            }
            // The local time of a moment such as 2026-03-02T06:30:00+01:00.
            Some(Value::String(text)) if column.kind == ColumnKind::Moment => {
                let moment = text.chars().take(19).collect::<String>().replace('T', " ");
                // What a day or a minute leaves out, as cells have it.
                let rest = [("2026-11-30", " 00:00:00"), ("2026-11-30 06:30", ":00")];
                let rest = rest.into_iter().find(|(short, _)| short.len() == moment.len());
                Cell::Moment(moment + rest.map_or("", |(_, rest)| rest))
            }
            Some(leaf) => Cell::Text(flat::leaf_text(leaf)),
        }
    }

    /// Writes it according to the extension of the file: .xlsx or .csv.
    pub fn write(&self, path: &Path) -> Result<(), FileError> {
        let content = if ending(path) == "csv" {
            self.as_csv()
        } else {
            self.as_workbook().map_err(|error| {
                FileError::Unfit(format!("{} cannot be made: {error}.", path.display()))
            })?
        };
        file::write(path, &content)
    }

    fn headings(&self) -> impl Iterator<Item = String> {
        self.columns.iter().map(|column| column.heading(self.units))
    }

    fn as_csv(&self) -> Vec<u8> {
        // Without the mark, some spreadsheets misread the degree sign of a heading.
        let mut writer = csv::Writer::from_writer(BYTE_ORDER_MARK.to_vec());
        // Writing into memory does not fail.
        let _ = writer.write_record(self.headings());
        for row in 0..self.rows {
            let cells = self.columns.iter().map(|column| self.cell(column, row));
            let _ = writer.write_record(cells.map(|cell| cell.text().into_owned()));
        }
        writer.into_inner().unwrap_or_default()
    }

    fn as_workbook(&self) -> Result<Vec<u8>, XlsxError> {
        let mut workbook = Workbook::new();
        let page = workbook.add_worksheet().set_name(self.name)?;
        let formats = Formats::new();
        for (at, column) in (0..).zip(&self.columns) {
            let heading = Cell::Text(column.heading(self.units));
            formats.write(page, 0, at, &heading, true)?;
            for (row, place) in (1..).zip(0..self.rows) {
                formats.write(page, row, at, &self.cell(column, place), false)?;
            }
            validate(column, page, at, self.units)?;
        }
        page.autofit();
        page.set_freeze_panes(1, 0)?;
        page.set_landscape();
        page.set_print_fit_to_pages(1, 0);
        page.set_repeat_rows(0, 0)?;
        let help = workbook.add_worksheet().set_name("How to")?;
        for (row, line) in (0..).zip(self.help()) {
            help.write_string(row, 0, line)?;
        }
        workbook.save_to_buffer()
    }

    /// What a person who opens the workbook should know.
    fn help(&self) -> Vec<String> {
        vec![
            self.summary.to_owned(),
            "Write over the example, a row for each question; leave blank what you do not know."
                .to_owned(),
            "Columns that you add are your own and come back as they are. Delete a column that you \
             do not need."
                .to_owned(),
            "A number is plain: 6 and not 6%.".to_owned(),
            format!("Then, in a terminal: {}", self.command("this-file.xlsx", "answers.xlsx")),
            "Answers are calculations, not permissions: the fluid's safety data sheet, local codes \
             and licensed practice come first."
                .to_owned(),
        ]
    }

    /// The command that answers the sheet when it is filled in.
    #[must_use]
    pub fn command(&self, file: &str, output: &str) -> String {
        let mut command = format!("{} rows {} {} -o {output}", called(), self.name, quoted(file));
        if !self.columns.iter().any(|column| column.path == UNITS) {
            command = command + " --units " + self.units_word();
        }
        for column in &self.around {
            let set = format!("{}={}", column.path, self.cell(column, 0).text());
            command = format!("{command} --set {}", quoted(&set));
        }
        command
    }
}

/// Lets the cells below a heading take what may stand there.
fn validate(
    column: &TemplateColumn,
    page: &mut Worksheet,
    at: u16,
    units: UnitSystem,
) -> Result<(), XlsxError> {
    let choice = |words: &[String]| -> Result<Option<DataValidation>, XlsxError> {
        if words.iter().map(|word| word.len() + 1).sum::<usize>() > LONGEST_CHOICE {
            return Ok(None);
        }
        let one_of = cut(&format!("Choose one of {}.", words.join(", ")), LONGEST_HINT);
        Ok(Some(DataValidation::new().allow_list_strings(words)?.set_error_message(one_of)?))
    };
    let validation = match &column.kind {
        ColumnKind::Text(_) | ColumnKind::Moment | ColumnKind::Number(None) => None,
        ColumnKind::Truth => choice(&["yes".to_owned(), "no".to_owned()])?,
        ColumnKind::Word(words) => choice(words)?,
        ColumnKind::Number(Some(row)) => {
            let bound = |metric: f64| row.units.from_metric(metric, units);
            let is_percentage = row.units.metric.code == "%" && !row.whole;
            let least = if is_percentage { UNUSUALLY_WEAK } else { bound(row.least) };
            let hint = format!("A plain number {}.", row.range_in_words(units));
            let hint = if is_percentage { hint + " Type 6, not 6%." } else { hint };
            let hint = cut(&hint, LONGEST_HINT);
            let validation = DataValidation::new()
                .allow_decimal_number(DataValidationRule::Between(least, bound(row.most)))
                .set_input_title(cut(&column.title, LONGEST_TITLE))?
                .set_input_message(hint.clone())?
                .set_error_message(hint)?;
            let style = if is_percentage {
                DataValidationErrorStyle::Warning
            } else {
                DataValidationErrorStyle::Stop
            };
            Some(validation.set_error_style(style))
        }
    };
    if let Some(validation) = validation {
        page.add_data_validation(1, at, ROWS, at, &validation)?;
    }
    Ok(())
}

fn cut(text: &str, most: usize) -> String {
    text.chars().take(most).collect()
}
