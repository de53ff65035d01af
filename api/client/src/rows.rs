//! Asks the rows of a sheet, many at a time, and puts the answers beside them.

use crate::ask::Client;
use crate::error::Error;
use crate::sheet::{Cell, Sheet, percent};
use std::collections::VecDeque;
use std::sync::Mutex;
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
#[derive(Debug, Clone, PartialEq)]
pub struct AnsweredSheet {
    /// The caller's columns unchanged, then the answer's, then the problems.
    pub sheet: Sheet,
    /// Number of rows with a problem.
    pub failed: usize,
}

/// Asks every row of `sheet`, and calls `progress` with the number of rows
/// answered so far.
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
        return Ok(AnsweredSheet { sheet: Sheet::from_csv(&answered), failed: 0 });
    }
    let starts: VecDeque<usize> = (0..sheet.rows.len().max(1)).step_by(TOGETHER).collect();
    let waiting = Mutex::new(starts);
    let answered = Mutex::new(Vec::new());
    std::thread::scope(|scope| {
        for _ in 0..how.at_once.max(1) {
            scope.spawn(|| {
                loop {
                    let Some(start) = lock(&waiting).pop_front() else { return };
                    let end = (start + TOGETHER).min(sheet.rows.len());
                    let table = sheet.as_csv(start, end);
                    let piece = client.solve_table(&how.calculation, &table, &how.everywhere);
                    if piece.is_err() {
                        // The others would fail the same way.
                        lock(&waiting).clear();
                    }
                    lock(&answered).push((start, piece));
                    progress(end - start);
                }
            });
        }
    });
    let mut pieces = answered.into_inner().unwrap_or_else(std::sync::PoisonError::into_inner);
    pieces.sort_by_key(|(start, _)| *start);
    let pieces: Vec<Sheet> = pieces
        .into_iter()
        .map(|(_, piece)| piece.map(|csv| Sheet::from_csv(&csv)))
        .collect::<Result<_, Error>>()?;
    Ok(beside(sheet, &pieces))
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
    mutex.lock().unwrap_or_else(std::sync::PoisonError::into_inner)
}

/// The answers beside the rows. Pieces may have different columns; a row is blank in
/// the columns that its piece does not have.
fn beside(sheet: &Sheet, pieces: &[Sheet]) -> AnsweredSheet {
    let own = sheet.headings.len();
    let mut columns = Vec::new();
    for piece in pieces {
        merge(&mut columns, piece.headings.iter().skip(own).cloned());
    }
    let mut rows = Vec::with_capacity(sheet.rows.len());
    let mut failed = 0;
    let mut asked = sheet.rows.iter();
    for piece in pieces {
        let places: Vec<Option<usize>> = columns
            .iter()
            .map(|column| piece.headings.iter().skip(own).position(|heading| heading == column))
            .collect();
        for answer in &piece.rows {
            let mut row = asked.next().cloned().unwrap_or_default();
            row.resize(own, Cell::Blank);
            let cell = |place: &Option<usize>| {
                place.and_then(|place| answer.get(own + place).cloned()).unwrap_or(Cell::Blank)
            };
            row.extend(places.iter().map(cell));
            failed += usize::from(row.last().is_some_and(|problem| *problem != Cell::Blank));
            rows.push(row);
        }
    }
    let headings = sheet.headings.iter().cloned().chain(columns);
    let first_row = sheet.first_row;
    AnsweredSheet { sheet: Sheet { headings: headings.collect(), rows, first_row }, failed }
}
