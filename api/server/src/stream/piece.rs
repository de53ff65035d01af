//! A piece of a stream: parts that are answered one after the other, yielding the thread
//! to others from time to time.

use super::Parts;
use crate::load::queue::Queue;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::{Duration, Instant};
use sumpwright_openapi::problem::{Problem, ProblemKind};

/// Time after which a piece yields its thread.
const TURN: Duration = Duration::from_secs(1);
/// Parts that take less than this are stored together.
const TOGETHER: Duration = Duration::from_millis(1);

/// Whole parts of a stream.
pub(super) struct Piece {
    by: Arc<dyn Parts>,
    parts: Arc<Vec<u8>>,
    done: Arc<Mutex<Done>>,
}

/// The progress of a piece.
#[derive(Default)]
struct Done {
    /// Number of bytes of the parts that have been answered.
    read: usize,
    answers: Vec<u8>,
}

impl Piece {
    pub(super) fn new(by: Arc<dyn Parts>, parts: Vec<u8>) -> Self {
        Self { by, parts: Arc::new(parts), done: Arc::default() }
    }

    /// The answers to the parts so far, and the reason if there will be no more.
    pub(super) async fn answer(
        self,
        queue: &Queue,
        caller: &Arc<str>,
    ) -> (Vec<u8>, Option<Problem>) {
        let mut careful = false;
        let ended = loop {
            let before = self.read();
            if before >= self.parts.len() {
                break None;
            }
            let turn = self.turn(before, careful);
            match queue.answer_part(caller, turn).await {
                Ok(()) if self.read() > before => {}
                // Only the end of the last part was left.
                Ok(()) => break None,
                // The part that was cut off did not have the full time: others came before it.
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

    /// The work of one turn, from a place on. If `carefully`, each part is stored
    /// separately.
    fn turn(
        &self,
        from: usize,
        careful: bool,
    ) -> impl FnOnce() -> Result<(), Problem> + Send + 'static {
        let (by, parts, done) =
            (Arc::clone(&self.by), Arc::clone(&self.parts), Arc::clone(&self.done));
        move || {
            let parts = &parts[from..];
            let (began, mut aside) = (Instant::now(), Instant::now());
            let mut whole = true;
            let mut out = Vec::with_capacity(3 * parts.len());
            by.answer_while(parts, &mut out, &mut |answers, read| {
                let now = Instant::now();
                let goes_on = now - began < TURN;
                if careful || !goes_on || read >= parts.len() || now - aside >= TOGETHER {
                    let mut done = done.lock().unwrap_or_else(PoisonError::into_inner);
                    if done.answers.is_empty() {
                        std::mem::swap(&mut done.answers, answers);
                    } else {
                        done.answers.append(answers);
                    }
                    done.read = from + read;
                    aside = now;
                }
                whole = goes_on;
                goes_on
            });
            if whole {
                // Blank lines after the last part are none: its answer may not have been stored yet.
                let mut done = done.lock().unwrap_or_else(PoisonError::into_inner);
                done.answers.append(&mut out);
                done.read = from + parts.len();
            }
            Ok(())
        }
    }
}
