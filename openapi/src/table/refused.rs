//! Why a whole table cannot be read.

use crate::request::problem::{FaultCode, Problem, ProblemKind};

/// Why a whole table cannot be read.
#[derive(Debug)]
pub enum Refused {
    /// What is wrong with a heading, or with all of them.
    Heading(FaultCode, String),
    /// It is written in a way that is not understood here.
    NotUnderstood(&'static str),
}

impl Refused {
    pub(super) fn heading(detail: String) -> Self {
        Self::Heading(FaultCode::UnreadableTable, detail)
    }
}

impl From<Refused> for Problem {
    fn from(refused: Refused) -> Self {
        match refused {
            Refused::Heading(code, detail) => Self::of_whole(code, detail),
            Refused::NotUnderstood(detail) => {
                Self::plain(ProblemKind::UnsupportedMediaType, detail)
            }
        }
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
