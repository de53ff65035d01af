//! One fault of a request: where it is, what it is for programs, and what it is for people.

use super::problem_kind::ProblemKind;
use serde::{Deserialize, Serialize};
use serde_json::json;
use std::borrow::Cow;
use sumpwright_engine::text::Kind;
use utoipa::openapi::schema::{ObjectBuilder, Type};
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// One fault of a request.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct RequestFault {
    /// JSON pointer (RFC 6901) to the member at fault; empty for the request as a whole.
    #[schema(example = "/sump/volume")]
    pub pointer: String,
    /// What is wrong, for programs. The words of `detail` may change at any time; the code stays.
    pub code: FaultCode,
    /// What is wrong and how to correct it, for people.
    #[schema(example = "The sump is fuller than full: 240 L in a capacity of 200 L.")]
    pub detail: String,
}

impl RequestFault {
    /// A fault at `pointer`.
    pub fn new(code: FaultCode, pointer: impl Into<String>, detail: impl Into<String>) -> Self {
        Self { pointer: pointer.into(), code, detail: detail.into() }
    }
}

macro_rules! codes {
    ($($(#[doc = $doc:literal])* $code:ident $word:literal $kind:ident;)*) => {
        /// What is wrong with a request, for programs.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
        pub enum FaultCode {
            $($(#[doc = $doc])* #[serde(rename = $word)] $code,)*
        }

        impl FaultCode {
            /// Every code.
            pub const ALL: &[Self] = &[$(Self::$code),*];

            /// The code as programs read it.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$code => $word,)*
                }
            }

            /// The type of problem that a request with this fault has.
            #[must_use]
            pub const fn kind(self) -> ProblemKind {
                match self {
                    $(Self::$code => ProblemKind::$kind,)*
                }
            }

            /// What it means.
            #[must_use]
            pub fn meaning(self) -> &'static str {
                match self {
                    $(Self::$code => concat!($($doc),*).trim_start(),)*
                }
            }
        }
    };
}

codes! {
    /// The body is not JSON.
    NotJson "not_json" Malformed;
    /// A required member is not there.
    Missing "missing" Malformed;
    /// There is no member, option or heading of this name.
    UnknownMember "unknown_member" Malformed;
    /// None of the words that may stand here.
    UnknownWord "unknown_word" Malformed;
    /// Another type of value belongs here.
    WrongType "wrong_type" Malformed;
    /// A name of the caller's own that has characters which names may not have.
    WrongName "wrong_name" Malformed;
    /// The same member is given more than once.
    GivenTwice "given_twice" Malformed;
    /// An empty list or text where something is needed.
    Empty "empty" Malformed;
    /// A text or a path that is longer than it may be.
    TooLong "too_long" Malformed;
    /// It can be read in more than one way.
    Ambiguous "ambiguous" Malformed;
    /// The table cannot be read: its headings, its letters or its rows.
    UnreadableTable "unreadable_table" Malformed;
    /// Not of the published shape in some other way.
    WrongShape "wrong_shape" Malformed;
    /// The number is too large for a computer, or not a number at all.
    NotFinite "not_finite" OutOfRange;
    /// The number is outside its range.
    OutOfRange "out_of_range" OutOfRange;
    /// More entries or members than there may be.
    TooMany "too_many" OutOfRange;
    /// It contradicts something else in the request, or names something that is not there.
    Inconsistent "inconsistent" Inconsistent;
    /// What is asked for cannot be reached with what was given.
    Unreachable "unreachable" Unreachable;
    /// What was given leaves open what the answer depends on.
    NotIdentifiable "not_identifiable" NotIdentifiable;
    /// An answer was found and could not be proven.
    Unproven "unproven" Unproven;
}

impl From<Kind> for FaultCode {
    fn from(kind: Kind) -> Self {
        match kind {
            Kind::OutOfRange => Self::OutOfRange,
            Kind::Inconsistent => Self::Inconsistent,
            Kind::Unreachable => Self::Unreachable,
            Kind::NotIdentifiable => Self::NotIdentifiable,
            Kind::Unproven => Self::Unproven,
        }
    }
}

impl PartialSchema for FaultCode {
    fn schema() -> RefOr<Schema> {
        let meanings =
            Self::ALL.iter().map(|code| format!("`{}`: {}", code.word(), code.meaning()));
        let description = format!(
            "What is wrong, for programs. More codes may be added.\n\n{}",
            meanings.collect::<Vec<_>>().join("\n")
        );
        ObjectBuilder::new()
            .schema_type(Type::String)
            .description(Some(description))
            .enum_values(Some(Self::ALL.iter().map(|code| json!(code.word()))))
            .into()
    }
}

impl ToSchema for FaultCode {
    fn name() -> Cow<'static, str> {
        "FaultCode".into()
    }
}
