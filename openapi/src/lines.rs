//! Documents one after the other, a line each (NDJSON, JSON Lines), answered a line each.
//!
//! Each line is answered as it would be alone: with a record, or with a problem where it has no
//! answer. The answers come in the order of the lines. A blank line is answered with a blank
//! line, so that the answer to the tenth line is the tenth.

use crate::guarded::guarded;
use crate::request::problem::{FaultCode, Problem, ProblemKind};
use crate::service::{Extent, Service};
use std::sync::Arc;

/// Media type of documents a line each.
pub const NDJSON: &str = "application/x-ndjson";

/// The same under its other name.
pub const JSON_LINES: &str = "application/jsonl";

/// Documents for one calculation, a line each.
pub struct Lines {
    service: Arc<Service>,
    extent: Extent,
}

impl Lines {
    /// Documents for `service`, each answered to this extent.
    #[must_use]
    pub const fn new(service: Arc<Service>, extent: Extent) -> Self {
        Self { service, extent }
    }

    /// Answers whole lines and appends the answers to `out`; after each line calls `go_on` with
    /// the number of bytes of `lines` that have been answered, and stops if it returns false.
    pub fn answer_while(
        &self,
        lines: &[u8],
        out: &mut Vec<u8>,
        mut go_on: impl FnMut(&mut Vec<u8>, usize) -> bool,
    ) {
        let mut read = 0;
        for line in lines.split_inclusive(|byte| *byte == b'\n') {
            read += line.len();
            let document = line.trim_ascii();
            if !document.is_empty() {
                let before = out.len();
                let answered = guarded(|| self.service.append_answer(document, self.extent, out));
                if let Err(problem) = answered {
                    out.truncate(before);
                    write(&of_a_line(problem), out);
                }
            }
            out.push(b'\n');
            if !go_on(out, read) {
                return;
            }
        }
    }

    /// A last line that says why there are no more.
    pub fn end(why: &Problem, out: &mut Vec<u8>) {
        write(why, out);
        out.push(b'\n');
    }
}

/// The problem with a line. What the service failed on is in its log; and who sends one document
/// over several lines is told.
fn of_a_line(mut problem: Problem) -> Problem {
    if problem.kind() == Some(ProblemKind::Internal) {
        let told = "The service failed on this document. Please report it with the X-Request-Id \
                    of the answer.";
        told.clone_into(&mut problem.detail);
    }
    for fault in problem.errors.iter_mut().filter(|fault| fault.code == FaultCode::NotJson) {
        fault.detail.push_str(" Each line is a document of its own.");
        problem.detail.clone_from(&fault.detail);
    }
    problem
}

fn write(problem: &Problem, out: &mut Vec<u8>) {
    // Writing into memory does not fail.
    let _ = serde_json::to_writer(out, problem);
}
