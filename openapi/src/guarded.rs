//! Turns a panic in a calculation into a problem.
//!
//! **A panic becomes a problem where it happens**, for a document, a picture and a
//! row alike; the log has the panic and the request's id, the caller only the id.

use crate::request::problem::{Problem, ProblemKind};
use std::panic::{AssertUnwindSafe, catch_unwind, resume_unwind};
use sumpwright_engine::numerics::cut_off::CutOff;

/// Does `work`; a panic in it becomes a problem with the panic's message. A calculation
/// that was cut off stays cut off.
pub fn guarded<Answer>(work: impl FnOnce() -> Result<Answer, Problem>) -> Result<Answer, Problem> {
    match catch_unwind(AssertUnwindSafe(work)) {
        Ok(answered) => answered,
        Err(unwound) if unwound.is::<CutOff>() => resume_unwind(unwound),
        Err(panic) => {
            let words = panic.downcast_ref::<&str>().map(|words| (*words).to_owned());
            let words = words.or_else(|| panic.downcast_ref::<String>().cloned());
            let detail = words.unwrap_or_else(|| "The calculation failed.".to_owned());
            Err(Problem::plain(ProblemKind::Internal, detail))
        }
    }
}
