//! Documents one after the other (NDJSON, JSON Lines), asked some at a time, so that a file of
//! any length takes no more memory than a short one.

use crate::ask::Client;
use crate::error::Error;
use crate::file::FileError;
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
    /// A file could not be read or written any further.
    #[error("{0}")]
    Io(#[from] std::io::Error),
    /// The file for the answers could not be made.
    #[error("{0}")]
    File(#[from] FileError),
}

/// What became of the lines.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct AnsweredLines {
    /// Lines with a document.
    pub asked: usize,
    /// Those of them that have a problem in place of a record.
    pub failed: usize,
}

/// Answers each line of `documents` with a line of what `open` opens, in the same order. It is
/// opened when there is something to write, so that nothing is written over before anybody
/// answers.
///
/// ```
/// use sumpwright_client::{Client, Extent, lines};
///
/// let reading = r#"{"units":"metric","reading":{"method":"refractometer","brix":4.8,"factor":1.25}}"#;
/// let documents = format!("{reading}\n\n{reading}\n");
/// let folder = tempfile::tempdir()?;
/// let path = folder.path().join("answers.ndjson");
/// let open = || Ok(std::fs::File::create(&path).expect("a file"));
/// let answered =
///     lines::ask(&Client::in_process(), "concentration", Extent::Record, documents.as_bytes(), open)?;
/// assert_eq!((answered.asked, answered.failed), (2, 0));
/// assert_eq!(std::fs::read_to_string(&path)?.lines().count(), 3);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
///
/// When a line cannot be read or written, or nobody answers. What was answered before has been
/// written.
pub fn ask<W: Write>(
    client: &Client,
    calculation: &str,
    extent: Extent,
    mut documents: impl BufRead,
    open: impl Fn() -> Result<W, FileError>,
) -> Result<AnsweredLines, LinesError> {
    let mut answered = AnsweredLines::default();
    let mut opened = None;
    loop {
        let mut together = Vec::new();
        let mut lines = 0;
        while lines < LINES_TOGETHER
            && together.len() < BYTES_TOGETHER
            && documents.read_until(b'\n', &mut together)? > 0
        {
            lines += 1;
        }
        let replies = match lines {
            0 => Vec::new(),
            _ => client.solve_lines(calculation, &together, extent)?,
        };
        let answers = match &mut opened {
            Some(answers) => answers,
            None => opened.insert(open()?),
        };
        answers.write_all(&replies)?;
        answers.flush()?;
        if lines == 0 {
            return Ok(answered);
        }
        let replies: Vec<&[u8]> = replies.split_inclusive(|byte| *byte == b'\n').collect();
        if replies.len() != lines {
            // The last line then says why there are no more.
            if let Some(Ok(problem)) =
                replies.last().map(|last| serde_json::from_slice::<Problem>(last))
            {
                return Err(Error::from(problem).into());
            }
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
