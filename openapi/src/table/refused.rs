//! Why a whole table cannot be read.

use crate::request::problem::{Fault, Problem, ProblemKind};

/// Why a whole table cannot be read.
#[derive(Debug)]
pub struct Refused(ProblemKind, String);

impl Refused {
    pub(super) fn heading(detail: String) -> Self {
        Self(ProblemKind::Malformed, detail)
    }

    pub(super) fn not_understood(detail: &str) -> Self {
        Self(ProblemKind::UnsupportedMediaType, detail.to_owned())
    }
}

impl From<Refused> for Problem {
    fn from(Refused(kind, detail): Refused) -> Self {
        Self::new(kind, Fault::new("", detail))
    }
}

/// What to say of a table whose letters cannot be told.
pub(super) fn not_utf_8() -> Problem {
    Refused::heading(
        "The table is not in UTF-8. Save it as CSV in UTF-8, or say charset=windows-1252 \
         in its Content-Type."
            .to_owned(),
    )
    .into()
}
