//! A piece of a table: rows that are answered one after the other, yielding the thread
//! to others from time to time.

use crate::load::queue::Queue;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::table::Table;

/// Time after which a piece yields its thread.
const TURN: Duration = Duration::from_secs(1);
/// Rows that take less than this are stored together.
const TOGETHER: Duration = Duration::from_millis(1);

/// Whole rows of a table.
pub(super) struct Piece {
    table: Arc<Table>,
    rows: Arc<[u8]>,
    done: Arc<Mutex<Done>>,
}

/// The progress of a piece.
#[derive(Default)]
struct Done {
    /// Number of bytes of the rows that have been answered.
    read: usize,
    answers: Vec<u8>,
}

impl Piece {
    pub(super) fn new(table: Arc<Table>, rows: Vec<u8>) -> Self {
        Self { table, rows: rows.into(), done: Arc::default() }
    }

    /// The answers to the rows so far, and the reason if there will be no more.
    pub(super) async fn answer(self, queue: &Queue) -> (Vec<u8>, Option<Problem>) {
        let mut careful = false;
        let ended = loop {
            let before = self.read();
            if before >= self.rows.len() {
                break None;
            }
            let turn = self.turn(before, careful);
            match queue.answer_part(turn).await {
                Ok(()) if self.read() > before => {}
                // Only the end of the last row was left.
                Ok(()) => break None,
                // The row that was cut off did not have the full time: other rows came before it.
                Err(problem)
                    if problem.kind() == Some(ProblemKind::TooLong)
                        && (!careful || self.read() > before) =>
                {
                    careful = true;
                }
                Err(problem) => break Some(problem),
            }
        };
        let mut done = self.done.lock().unwrap_or_else(PoisonError::into_inner);
        (std::mem::take(&mut done.answers), ended)
    }

    fn read(&self) -> usize {
        self.done.lock().unwrap_or_else(PoisonError::into_inner).read
    }

    /// The work of one turn, from a place on. If `carefully`, each row is stored
    /// separately.
    fn turn(
        &self,
        from: usize,
        careful: bool,
    ) -> impl FnOnce() -> Result<(), Problem> + Send + 'static {
        let (table, rows, done) =
            (Arc::clone(&self.table), Arc::clone(&self.rows), Arc::clone(&self.done));
        move || {
            let rows = &rows[from..];
            let (began, mut aside) = (Instant::now(), Instant::now());
            let mut out = Vec::with_capacity(3 * rows.len());
            table.answer_while(rows, &mut out, |answers, read| {
                let now = Instant::now();
                let goes_on = now - began < TURN;
                if careful || !goes_on || read >= rows.len() || now - aside >= TOGETHER {
                    let mut done = done.lock().unwrap_or_else(PoisonError::into_inner);
                    done.answers.append(answers);
                    done.read = from + read;
                    aside = now;
                }
                goes_on
            });
            Ok(())
        }
    }
}
