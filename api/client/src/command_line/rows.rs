//! Answers the rows of a spreadsheet.

use super::place::Where;
use super::{UnitsArgument, output};
use crate::file;
use crate::log;
use crate::rows::{self, Answers, Ended, How, UNITS};
use crate::sheet::Sheet;
use crate::written::{self, Answered};
use clap::Args;
use indicatif::{ProgressBar, ProgressStyle};
use std::error::Error;
use std::path::{Path, PathBuf};
use sumpwright_openapi::table::{Meaning, meaning};

#[derive(Debug, Args)]
pub(super) struct Rows {
    /// Calculation, for example top-up.
    calculation: String,
    /// Spreadsheet: .csv, .xlsx, .xlsm or .ods. Its first row names the members.
    file: PathBuf,
    /// File to write the answers to: .csv or .xlsx.
    #[arg(short, long, value_name = "FILE", required_unless_present = "new_sheet")]
    output: Option<PathBuf>,
    /// Overwrite the file if it exists.
    #[arg(long)]
    force: bool,
    /// Write the answers on a new sheet of this name: of the Excel workbook that is read or, with
    /// --output, of a copy of it. All else in it stays as it is.
    #[arg(long, value_name = "NAME")]
    new_sheet: Option<String>,
    /// Sheet of a workbook. Default: the first.
    #[arg(long, value_name = "NAME")]
    sheet: Option<String>,
    /// Number of the row with the headings. Default: the first row that is not empty.
    #[arg(long, value_name = "NUMBER")]
    headings_in_row: Option<usize>,
    /// System of units, if no column gives it.
    #[arg(long)]
    units: Option<UnitsArgument>,
    /// Member that is the same for every row, as path=value.
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = pair)]
    everywhere: Vec<(String, String)>,
    /// Values of the answer to write, separated by commas, as in
    /// answer.drain,answer.add.0.volume. Default: the statement and every value of the answer
    /// but its steps.
    #[arg(long, value_name = "PATHS", value_delimiter = ',')]
    columns: Option<Vec<String>>,
    /// Number of significant digits of the answer's numbers. Default: all of them.
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(i32).range(1..=17))]
    digits: Option<i32>,
    /// Number of parts of the table that are asked at the same time.
    #[arg(long, value_name = "NUMBER", default_value_t = 4)]
    at_once: usize,
    #[command(flatten)]
    place: Where,
}

fn pair(text: &str) -> Result<(String, String), String> {
    let (path, value) =
        text.split_once('=').ok_or("a path, an equals sign and a value belong here")?;
    Ok((path.to_owned(), value.to_owned()))
}

/// So many faults are told; the column of problems has all of them.
const FAULTS_TOLD: usize = 20;

impl Rows {
    pub(super) fn run(self) -> Result<usize, Box<dyn Error>> {
        self.check_output()?;
        let sheet = Sheet::read(&self.file, self.sheet.as_deref(), self.headings_in_row)?;
        if let Some(name) = &self.new_sheet {
            written::check_new_sheet(&sheet, name)?;
        }
        let answered = self.ask(&sheet)?;
        let written = match (&self.new_sheet, &self.output) {
            (None, Some(output)) => written::to_file(output, &sheet, &answered)?,
            (name, output) => {
                let name = name.as_deref().unwrap_or_default();
                written::to_new_sheet(&sheet, &answered, name, output.as_deref())?
            }
        };
        if self.output.as_ref().is_some_and(|output| *output != written) {
            eprintln!("The file could not be written any more; another was, beside it.");
        }
        Ok(match &answered {
            Answered::Log(log) => {
                let values = log.values.len();
                let rows = counted(log.entries, "row");
                let values = counted(values, "value");
                eprintln!("{rows} answered as one: {values}, in {}", written.display());
                0
            }
            Answered::Rows(answers) => {
                for fault in answers.faults.iter().take(FAULTS_TOLD) {
                    eprintln!("{fault}");
                }
                eprintln!("{}", said(answers, &written));
                answers.faults.len() + answers.ended.as_ref().map_or(0, |ended| ended.left)
            }
        })
    }

    fn check_output(&self) -> Result<(), Box<dyn Error>> {
        match (&self.output, &self.new_sheet) {
            (Some(output), None) => {
                written::check_ending(output, written::ANSWERS)?;
                let lost = ", and writing the answers over it would take its formulas, formats \
                            and other sheets";
                output::check(Some(&self.file), output, self.force, lost)
            }
            (Some(output), Some(_)) => {
                if output.extension() != self.file.extension() {
                    return Err(format!(
                        "{} is to be a copy of {} with a new sheet. Give it the same ending.",
                        output.display(),
                        self.file.display()
                    )
                    .into());
                }
                let lost = ". To have the new sheet in it, leave out --output";
                output::check(Some(&self.file), output, self.force, lost)
            }
            (None, _) => {
                file::check_closed(&self.file)?;
                // That it is missing is told when it is read.
                if self.file.exists() {
                    file::check_writable(&self.file)?;
                }
                Ok(())
            }
        }
    }

    fn ask(&self, sheet: &Sheet) -> Result<Answered, Box<dyn Error>> {
        let client = self.place.client()?;
        let service = client.service(&self.calculation)?;
        let mut everywhere = self.everywhere.clone();
        let said_by_a_column = sheet.headings.iter().any(|heading| {
            matches!(meaning(heading, service), Meaning::Member { path, .. } if path == UNITS)
        });
        if let Some(units) = self.units.filter(|_| !said_by_a_column) {
            everywhere.push((UNITS.to_owned(), units.word().to_owned()));
        }
        let how = How {
            calculation: self.calculation.clone(),
            everywhere,
            columns: self.columns.clone(),
            digits: self.digits,
            at_once: self.at_once,
        };
        if let Some(list) = service.list() {
            let answer = log::ask(&client, sheet, &how, list);
            return Ok(Answered::Log(answer.map_err(|error| self.place.explain(error))?));
        }
        let filled = sheet.rows.iter().filter(|row| !row.is_blank()).count();
        let bar = ProgressBar::new(filled as u64);
        bar.set_style(ProgressStyle::with_template("{bar:40} {pos} of {len} rows, {eta} to go")?);
        let answers = rows::ask(&client, sheet, &how, |rows| bar.inc(rows as u64));
        bar.finish_and_clear();
        Ok(Answered::Rows(answers.map_err(|error| self.place.explain(error))?))
    }
}

fn counted(number: usize, what: &str) -> String {
    format!("{number} {what}{}", if number == 1 { "" } else { "s" })
}

/// What became of the rows.
fn said(answers: &Answers, output: &Path) -> String {
    let (asked, output) = (answers.asked(), output.display());
    let (rows, failed) = (counted(asked, "row"), answers.faults.len());
    match &answers.ended {
        Some(Ended { why, left }) => format!(
            "{why}\n{} of {rows} were asked, and their answers are in {output}; column problem \
             says which were not.",
            asked - left
        ),
        None if asked == 0 => format!("There is no row to answer; the headings are in {output}"),
        None if failed == 0 => format!("{rows} answered, in {output}"),
        None => {
            let have = if failed == 1 { "has" } else { "have" };
            let more = failed.saturating_sub(FAULTS_TOLD);
            let more = if more > 0 { format!("and {more} more\n") } else { String::new() };
            format!(
                "{more}{failed} of {rows} {have} no answer; column problem of {output} says why"
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_counted_in_words() {
        let said = |rows: usize, failed, left| {
            let why = || crate::Error::BrokenOff("http://shop".to_owned());
            let answers = Answers {
                rows: vec![Some(Vec::new()); rows],
                faults: vec![String::new(); failed],
                ended: (left > 0).then(|| Ended { why: why(), left }),
                ..Answers::default()
            };
            said(&answers, Path::new("o.csv"))
        };
        assert_eq!(said(0, 0, 0), "There is no row to answer; the headings are in o.csv");
        assert_eq!(said(1, 0, 0), "1 row answered, in o.csv");
        assert_eq!(said(5, 0, 0), "5 rows answered, in o.csv");
        assert_eq!(said(5, 1, 0), "1 of 5 rows has no answer; column problem of o.csv says why");
        let many = said(50, 22, 0);
        assert!(many.starts_with("and 2 more\n22 of 50 rows have no answer"), "{many}");
        let broken_off = said(700, 1, 450);
        assert!(broken_off.starts_with("The service at http://shop did not"), "{broken_off}");
        assert!(broken_off.contains("\n250 of 700 rows were asked"), "{broken_off}");
    }
}
