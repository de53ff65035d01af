//! Why a whole table cannot be read.

use crate::request::problem::{FaultCode, Problem, ProblemKind};

/// Why a whole table cannot be read.
#[derive(Debug)]
pub enum Refused {
    /// A fault in the headings.
    Heading(FaultCode, String),
    /// The format or encoding of the table is not supported.
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

/// The refusal of a table in an unknown encoding.
pub(super) fn not_utf_8() -> Problem {
    Refused::heading(
        "The table is not in UTF-8. Save it as CSV in UTF-8, or put charset=windows-1252 \
         in the Content-Type."
            .to_owned(),
    )
    .into()
}
