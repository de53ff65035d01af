//! Why a whole table cannot be read.

use crate::request::problem::{FaultCode, Problem, ProblemKind, RequestFault};

/// Why a whole table cannot be read: a fault of its headings.
#[derive(Debug)]
pub struct Refused {
    code: FaultCode,
    detail: String,
}

impl Refused {
    pub(super) fn heading(detail: String) -> Self {
        Self { code: FaultCode::UnreadableTable, detail }
    }

    pub(super) fn too_many(detail: String) -> Self {
        Self { code: FaultCode::TooMany, detail }
    }

    pub(super) fn ambiguous(detail: String) -> Self {
        Self { code: FaultCode::Ambiguous, detail }
    }
}

impl From<Refused> for RequestFault {
    fn from(refused: Refused) -> Self {
        Self::new(refused.code, "", refused.detail)
    }
}

impl From<Refused> for Problem {
    fn from(refused: Refused) -> Self {
        Self::new(refused.into())
    }
}

/// The refusal of a table in UTF-16.
pub(super) fn utf_16() -> Problem {
    let detail = "The table is in UTF-16. Save it as CSV in UTF-8.";
    Problem::plain(ProblemKind::UnsupportedMediaType, detail)
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
