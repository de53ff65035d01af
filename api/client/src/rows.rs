//! Asks the rows of a sheet, many at a time, and puts the answers beside them.

use crate::ask::Client;
use crate::error::Error;
use crate::sheet::{Cell, Sheet, percent};
use std::collections::{BTreeMap, VecDeque};
use std::sync::{Mutex, PoisonError};
use sumpwright_openapi::service::Service;
use sumpwright_openapi::table::{heads_numbers, merge};

/// Number of rows that are asked together.
const TOGETHER: usize = 250;

/// How to ask the rows.
#[derive(Debug, Clone)]
pub struct How {
    /// The calculation.
    pub calculation: String,
    /// Members that are the same for every row.
    pub everywhere: Vec<(String, String)>,
    /// Number of pieces asked at the same time.
    pub at_once: usize,
}

/// A sheet with its answers.
#[derive(Debug)]
pub struct AnsweredSheet {
    /// The caller's columns unchanged, then the answer's, then the problems.
    pub sheet: Sheet,
    /// Number of rows with a problem.
    pub failed: usize,
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

/// Asks every row of `sheet`, and calls `progress` with the number of rows answered so
/// far. If a server ends midway, the answers received until then are kept.
///
/// # Errors
///
/// When no row was answered.
pub fn ask(
    client: &Client,
    sheet: &Sheet,
    how: &How,
    progress: impl Fn(usize) + Sync,
) -> Result<AnsweredSheet, Error> {
    if client.service(&how.calculation)?.list().is_some() {
        let answered = client.solve_table(
            &how.calculation,
            &sheet.as_csv(0, sheet.rows.len()),
            &how.everywhere,
        )?;
        progress(sheet.rows.len());
        return Ok(AnsweredSheet { sheet: Sheet::from_csv(&answered), failed: 0, ended: None });
    }
    let starts = (0..sheet.rows.len().max(1)).step_by(TOGETHER);
    let waiting: Mutex<VecDeque<usize>> = Mutex::new(starts.clone().collect());
    let (answered, ended) = (Mutex::new(BTreeMap::new()), Mutex::new(None));
    std::thread::scope(|scope| {
        for _ in 0..how.at_once.max(1) {
            scope.spawn(|| {
                loop {
                    let Some(start) = lock(&waiting).pop_front() else { return };
                    let end = (start + TOGETHER).min(sheet.rows.len());
                    let table = sheet.as_csv(start, end);
                    match client.solve_table(&how.calculation, &table, &how.everywhere) {
                        Ok(piece) => drop(lock(&answered).insert(start, Sheet::from_csv(&piece))),
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
            let pieces = starts.map(|start| answered.get(&start));
            Ok(beside(sheet, &pieces.collect::<Vec<_>>(), ended))
        }
    }
}

/// The faults of percentages in columns of numbers, one sentence per cell: the
/// row number in the spreadsheet, the column and the correction.
pub fn percentages<'s>(
    sheet: &'s Sheet,
    service: &'s Service,
) -> impl Iterator<Item = String> + 's {
    let in_question = |(_, heading, _): &(usize, &str, f64)| heads_numbers(heading, service);
    sheet.percentages().filter(in_question).map(|(row, heading, share)| {
        let shown = percent(share);
        format!(
            "Row {row}, column {heading:?}: this cell is a percentage, which shows {shown}% and \
             holds {share}. Format it as a number and type {shown}."
        )
    })
}

/// Locks, even if a panic in another thread has poisoned the lock.
fn lock<T>(mutex: &Mutex<T>) -> std::sync::MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The answers beside the rows, with one piece or none for each group of rows. Pieces may
/// have different columns; a row is blank in the columns that its piece does not have.
fn beside(sheet: &Sheet, pieces: &[Option<&Sheet>], ended: Option<Error>) -> AnsweredSheet {
    let own = sheet.headings.len();
    let mut columns = Vec::new();
    for piece in pieces.iter().flatten() {
        merge(&mut columns, piece.headings.iter().skip(own).cloned());
    }
    let mut rows = Vec::with_capacity(sheet.rows.len());
    let (mut failed, mut left) = (0, 0);
    let why = ended.as_ref().map_or_else(
        || "The answer ended before this row.".to_owned(),
        |why| format!("This row was not answered. {why}"),
    );
    for (asked, piece) in sheet.rows.chunks(TOGETHER).zip(pieces) {
        let places = piece.map(|piece| {
            let of_piece = |column| piece.headings.iter().skip(own).position(|own| own == column);
            (piece, columns.iter().map(of_piece).collect::<Vec<Option<usize>>>())
        });
        for (place, asked) in asked.iter().enumerate() {
            let mut row = asked.clone();
            row.resize(own, Cell::Blank);
            let answer = places
                .as_ref()
                .and_then(|(piece, places)| piece.rows.get(place).map(|answer| (answer, places)));
            if let Some((answer, places)) = answer {
                let cell = |place: &Option<usize>| {
                    place.and_then(|place| answer.get(own + place).cloned()).unwrap_or(Cell::Blank)
                };
                row.extend(places.iter().map(cell));
                failed += usize::from(row.last().is_some_and(|problem| *problem != Cell::Blank));
            } else {
                // The last column is that of problems.
                row.resize(own + columns.len().saturating_sub(1), Cell::Blank);
                row.push(Cell::Text(why.clone()));
                left += 1;
            }
            rows.push(row);
        }
    }
    let headings = sheet.headings.iter().cloned().chain(columns);
    let sheet = Sheet { headings: headings.collect(), rows, first_row: sheet.first_row };
    AnsweredSheet { sheet, failed, ended: ended.map(|why| Ended { why, left }) }
}
