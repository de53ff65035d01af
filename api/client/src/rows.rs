//! Asks the rows of a sheet, many at a time.

use crate::ask::Client;
use crate::columns::Columns;
use crate::error::Error;
use crate::sheet::{Cell, Row, Sheet, of_service};
use std::borrow::Cow;
use std::collections::{BTreeMap, VecDeque};
use std::sync::{Mutex, PoisonError};
use sumpwright_engine::numerics::digits::round_to;
use sumpwright_openapi::service::Service;
use sumpwright_openapi::table::{PROBLEM_COLUMN, TableOptions, headed, merge};

/// Number of rows that are asked together.
const TOGETHER: usize = 250;

/// The path of the member that says the units.
pub(crate) const UNITS: &str = "units";

/// How to ask the rows.
#[derive(Debug, Clone, Default)]
pub struct How {
    /// The calculation.
    pub calculation: String,
    /// Members that are the same for every row.
    pub everywhere: Vec<(String, String)>,
    /// The values of the answer to have. Default: all of them but steps.
    pub columns: Option<Vec<String>>,
    /// Number of significant digits to round them to. Default: all digits.
    pub digits: Option<i32>,
    /// Number of pieces asked at the same time.
    pub at_once: usize,
}

/// The answers to a sheet.
#[derive(Debug, Default)]
pub struct Answers {
    /// The headings of the answer's columns. The last one is that of problems.
    pub headings: Vec<String>,
    /// For each row of the sheet its cells below them, as text; none for a blank row.
    pub rows: Vec<Option<Vec<String>>>,
    /// Whether their numbers have a decimal comma.
    pub decimal_comma: bool,
    /// What is wrong with rows, one sentence or more each, with the number of the row.
    pub faults: Vec<String>,
    /// What ended it, where not every row was answered.
    pub ended: Option<Ended>,
}

/// Why rows were left, and how many.
#[derive(Debug)]
pub struct Ended {
    /// Why nothing more was answered.
    pub why: Error,
    /// How many rows were left.
    pub left: usize,
}

impl Answers {
    /// Number of rows that were to be answered: those that are not blank.
    #[must_use]
    pub fn asked(&self) -> usize {
        self.rows.iter().flatten().count()
    }
}

/// A piece of the answer: its headings, and its rows.
type Piece = (Vec<String>, Vec<Vec<String>>);

/// Asks every row of `sheet` that is not blank, and calls `progress` with the number of rows
/// answered so far. If a server ends midway, the answers received until then are kept.
///
/// ```
/// use sumpwright_client::sheet::Sheet;
/// use sumpwright_client::template::SheetToFillIn;
/// use sumpwright_client::written::{Answered, to_file};
/// use sumpwright_client::{Client, UnitSystem, rows};
///
/// let client = Client::in_process();
/// let folder = tempfile::tempdir()?;
/// // A sheet to fill in, whose first row is the example.
/// let path = folder.path().join("round.csv");
/// SheetToFillIn::of(client.service("top-up")?, UnitSystem::Metric).write(&path)?;
///
/// let sheet = Sheet::read(&path, None, None)?;
/// let how = rows::How {
///     calculation: "top-up".to_owned(),
///     columns: Some(vec!["statement".to_owned()]),
///     at_once: 1,
///     ..rows::How::default()
/// };
/// let answers = rows::ask(&client, &sheet, &how, |_| {})?;
/// assert!(answers.asked() >= 1 && answers.faults.is_empty(), "{answers:?}");
/// let written = to_file(&folder.path().join("answered.xlsx"), &sheet, &Answered::Rows(answers))?;
/// assert!(written.exists());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
///
/// When the headings are none of a table, or no row was answered.
pub fn ask(
    client: &Client,
    sheet: &Sheet,
    how: &How,
    progress: impl Fn(usize) + Sync,
) -> Result<Answers, Error> {
    let service = client.service(&how.calculation)?;
    let columns = Columns::of(sheet, service)?;
    let asking = Asking { client, sheet, how, columns: &columns };
    asking.check_units()?;
    let filled: Vec<&Row> = sheet.rows.iter().filter(|row| !row.is_blank()).collect();
    let starts = (0..filled.len().max(1)).step_by(TOGETHER);
    let waiting: Mutex<VecDeque<usize>> = Mutex::new(starts.clone().collect());
    let (answered, ended) = (Mutex::new(BTreeMap::new()), Mutex::new(None));
    std::thread::scope(|scope| {
        for _ in 0..how.at_once.max(1) {
            scope.spawn(|| {
                loop {
                    let Some(start) = lock(&waiting).pop_front() else { return };
                    let end = (start + TOGETHER).min(filled.len());
                    match asking.piece(&filled[start..end]) {
                        Ok(piece) => drop(lock(&answered).insert(start, piece)),
                        Err(error) => {
                            // The others would fail the same way.
                            lock(&waiting).clear();
                            lock(&ended).get_or_insert(error);
                        }
                    }
                    progress(end - start);
                }
            });
        }
    });
    let answered = answered.into_inner().unwrap_or_else(PoisonError::into_inner);
    let ended = ended.into_inner().unwrap_or_else(PoisonError::into_inner);
    match ended {
        Some(error) if answered.is_empty() => Err(error),
        ended => {
            let pieces: Vec<Option<&Piece>> = starts.map(|start| answered.get(&start)).collect();
            Ok(asking.together(&filled, &pieces, ended, service))
        }
    }
}

/// What is asked, and of whom.
pub(crate) struct Asking<'a> {
    pub(crate) client: &'a Client,
    pub(crate) sheet: &'a Sheet,
    pub(crate) how: &'a How,
    pub(crate) columns: &'a Columns,
}

impl Asking<'_> {
    /// Refuses a sheet of which nobody says in which units its numbers are.
    pub(crate) fn check_units(&self) -> Result<(), Error> {
        let mut everywhere = self.how.everywhere.iter();
        if self.columns.has(UNITS) || everywhere.any(|(path, _)| path == UNITS) {
            return Ok(());
        }
        let missing = "Nothing says in which units the numbers are. Say --units metric or --units \
                       us, or add a column with the heading units.";
        Err(Error::Sheet(missing.to_owned()))
    }

    fn piece(&self, rows: &[&Row]) -> Result<Piece, Error> {
        let options = TableOptions { columns: self.how.columns.clone(), ..self.options() };
        let table = self.table(rows);
        let answered = self.client.solve_table(&self.how.calculation, &table, &options)?;
        let (mut headings, mut rows) = of_service(&answered, self.separator());
        let own = self.sheet.headings.len().min(headings.len());
        drop(headings.drain(..own));
        for row in &mut rows {
            drop(row.drain(..own.min(row.len())));
        }
        Ok((headings, rows))
    }

    /// The options of a table that are the same for every piece of it.
    pub(crate) fn options(&self) -> TableOptions {
        TableOptions {
            everywhere: self.how.everywhere.clone(),
            columns: None,
            latin: false,
            decimal_comma: Some(self.columns.decimal_comma),
            headings_in_row: None,
        }
    }

    /// The separator of the tables that go to and fro.
    fn separator(&self) -> u8 {
        if self.columns.decimal_comma { b';' } else { b',' }
    }

    /// Rows as the service reads them, headings first.
    fn table(&self, rows: &[&Row]) -> Vec<u8> {
        let mut table = self.headings();
        rows.iter().for_each(|row| table.extend(self.line(row)));
        table
    }

    /// The row of headings as the service reads it.
    pub(crate) fn headings(&self) -> Vec<u8> {
        self.separated(self.sheet.headings.iter().map(|heading| Cow::Borrowed(heading.as_str())))
    }

    /// A row as the service reads it.
    pub(crate) fn line(&self, row: &Row) -> Vec<u8> {
        let blanks = self.sheet.headings.len().saturating_sub(row.cells.len());
        let blanks = std::iter::repeat_n(Cow::Borrowed(""), blanks);
        self.separated(row.cells.iter().map(Cell::text).chain(blanks))
    }

    fn separated<'t>(&self, cells: impl Iterator<Item = Cow<'t, str>>) -> Vec<u8> {
        let separator = self.separator();
        let mut writer = csv::WriterBuilder::new().delimiter(separator).from_writer(Vec::new());
        // Writing into memory does not fail.
        let _ = writer.write_record(cells.map(Cow::into_owned));
        writer.into_inner().unwrap_or_default()
    }

    /// The answers to all rows, with one piece or none for each group of rows. Pieces may have
    /// different columns; a row is blank in the columns that its piece does not have.
    fn together(
        &self,
        filled: &[&Row],
        pieces: &[Option<&Piece>],
        ended: Option<Error>,
        service: &Service,
    ) -> Answers {
        let mut headings = Vec::new();
        for (piece, _) in pieces.iter().flatten() {
            merge(&mut headings, piece.iter().cloned());
        }
        if headings.is_empty() {
            headings.push(PROBLEM_COLUMN.to_owned());
        }
        let decimal_comma = self.columns.decimal_comma;
        let rounded: Vec<bool> = headings
            .iter()
            .map(|heading| self.how.digits.is_some() && holds_numbers(heading, service))
            .collect();
        let why = ended.as_ref().map_or_else(
            || "The answer ended before this row.".to_owned(),
            |why| format!("This row was not answered. {why}"),
        );
        let (mut replies, mut faults, mut left) = (Vec::new(), Vec::new(), 0);
        for (asked, piece) in filled.chunks(TOGETHER).zip(pieces) {
            let places: Option<Vec<Option<usize>>> = piece.map(|(own, _)| {
                headings.iter().map(|heading| own.iter().position(|own| own == heading)).collect()
            });
            for (at, row) in asked.iter().enumerate() {
                let answer = piece.and_then(|(_, rows)| rows.get(at)).zip(places.as_ref());
                let mut cells = vec![String::new(); headings.len()];
                let Some((answer, places)) = answer else {
                    cells.pop();
                    cells.push(why.clone());
                    replies.push(cells);
                    left += 1;
                    continue;
                };
                for (cell, (place, round)) in cells.iter_mut().zip(places.iter().zip(&rounded)) {
                    let text = place.and_then(|place| answer.get(place)).cloned();
                    *cell = text.unwrap_or_default();
                    if let Some(digits) = self.how.digits.filter(|_| *round) {
                        *cell = round_text(cell, digits, decimal_comma);
                    }
                }
                let said = cells.last().map_or("", String::as_str);
                let said = self.wrong_with(row, said, service);
                if let Some((told, problem)) = said {
                    cells.iter_mut().for_each(String::clear);
                    cells.pop();
                    cells.push(problem);
                    faults.push(told);
                }
                replies.push(cells);
            }
        }
        if let Some(units) = self.units_of_all(filled) {
            for heading in &mut headings {
                *heading = headed(heading, &units, service);
            }
        }
        let mut replies = replies.into_iter();
        let rows = self.sheet.rows.iter();
        let rows = rows.map(|row| if row.is_blank() { None } else { replies.next() }).collect();
        let ended = ended.map(|why| Ended { why, left });
        Answers { headings, rows, decimal_comma, faults, ended }
    }

    /// The units of all rows, where each row says them and says the same.
    fn units_of_all(&self, filled: &[&Row]) -> Option<String> {
        let column = self.columns.column_of(UNITS)?;
        let word = |row: &Row| Some(row.cells.get(column)?.text().trim().to_ascii_lowercase());
        let first = word(filled.first()?)?;
        filled.iter().all(|row| word(row).as_ref() == Some(&first)).then_some(first)
    }

    /// What is wrong with a row, as it is told and as its cell says it.
    fn wrong_with(&self, row: &Row, said: &str, service: &Service) -> Option<(String, String)> {
        let mut faults = self.columns.faults_of_cells(self.sheet, row);
        let known: Vec<String> = faults.iter().map(|fault| fault.path.clone()).collect();
        let said = self.columns.faults_said(self.sheet, said, &service.question).into_iter();
        faults.extend(said.filter(|fault| !known.contains(&fault.path)));
        if faults.is_empty() {
            return None;
        }
        let told: Vec<String> = faults.iter().map(|fault| fault.told(self.sheet, row)).collect();
        let cell: Vec<String> = faults.iter().map(|fault| fault.in_a_cell(self.sheet)).collect();
        Some((told.join("\n"), cell.join(" ")))
    }
}

/// Whether a column of the answer holds numbers.
fn holds_numbers(heading: &str, service: &Service) -> bool {
    let path = heading.split(" [").next().unwrap_or(heading);
    !service.record.quantities_at(path).is_empty()
}

/// A number rounded; any other text as it is.
pub(crate) fn round_text(text: &str, digits: i32, decimal_comma: bool) -> String {
    let Cell::Number(number) = Cell::typed(text, decimal_comma) else { return text.to_owned() };
    let rounded = round_to(number, digits).to_string();
    if decimal_comma { rounded.replacen('.', ",", 1) } else { rounded }
}

/// Locks, even if a panic in another thread has poisoned the lock.
fn lock<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
