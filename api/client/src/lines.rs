//! Documents one after the other (NDJSON, JSON Lines), asked some at a time, so that a file of
//! any length takes no more memory than a short one.

use crate::ask::Client;
use crate::error::Error;
use std::io::{BufRead, Write};
use sumpwright_openapi::problem::Problem;
use sumpwright_openapi::service::Extent;

/// So many lines are asked together, unless they are long.
const LINES_TOGETHER: usize = 1000;
/// So many bytes are asked together, but for a line that is longer by itself.
const BYTES_TOGETHER: usize = 4 << 20;

/// Why not all lines were answered.
#[derive(Debug, thiserror::Error)]
pub enum LinesError {
    /// There is no answer.
    #[error("{0}")]
    Ask(#[from] Error),
    /// A file could not be read or written.
    #[error("{0}")]
    File(#[from] std::io::Error),
}

/// What became of the lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct AnsweredLines {
    /// Lines with a document.
    pub asked: usize,
    /// Those of them that have a problem in place of a record.
    pub failed: usize,
}

/// Answers each line of `documents` with a line of `answers`, in the same order.
///
/// # Errors
///
/// When a line cannot be read or written, or nobody answers. What was answered before has been
/// written.
pub fn ask(
    client: &Client,
    calculation: &str,
    extent: Extent,
    mut documents: impl BufRead,
    mut answers: impl Write,
) -> Result<AnsweredLines, LinesError> {
    let mut answered = AnsweredLines::default();
    loop {
        let mut together = Vec::new();
        let mut lines = 0;
        while lines < LINES_TOGETHER
            && together.len() < BYTES_TOGETHER
            && documents.read_until(b'\n', &mut together)? > 0
        {
            lines += 1;
        }
        if lines == 0 {
            answers.flush()?;
            return Ok(answered);
        }
        let replies = client.solve_lines(calculation, &together, extent)?;
        answers.write_all(&replies)?;
        let replies: Vec<&[u8]> = replies.split_inclusive(|byte| *byte == b'\n').collect();
        if replies.len() != lines {
            let what = format!("{lines} lines were asked and {} came back", replies.len());
            return Err(Error::NotAnAnswer(what).into());
        }
        for reply in replies.iter().filter(|reply| !reply.trim_ascii().is_empty()) {
            answered.asked += 1;
            // A record has no `status`, which each problem has.
            answered.failed += usize::from(serde_json::from_slice::<Problem>(reply).is_ok());
        }
    }
}
