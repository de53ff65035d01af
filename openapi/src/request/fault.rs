//! One fault of a request: its place, its code for programs and its sentence for people.

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
    /// Code of the fault, for programs. The words of `detail` may change at any time; the code stays.
    pub code: FaultCode,
    /// The fault and how to correct it, for people.
    #[schema(example = "It is fuller than full: 240 L in a capacity of 200 L.")]
    pub detail: String,
}

impl RequestFault {
    /// A fault at `pointer`.
    ///
    /// Both are of bounded length, however long what was sent is that they repeat: a sentence is told without its
    /// middle, and a pointer ends at a member around.
    pub fn new(code: FaultCode, pointer: impl Into<String>, detail: impl Into<String>) -> Self {
        Self { pointer: bounded_pointer(pointer.into()), code, detail: bounded(detail.into()) }
    }
}

/// A sentence of a problem has so many bytes at most.
const SENTENCE_MOST: usize = 4096;

/// The sentence, or its beginning and its end.
pub(super) fn bounded(sentence: String) -> String {
    if sentence.len() <= SENTENCE_MOST {
        return sentence;
    }
    let begin = &sentence[..sentence.floor_char_boundary(SENTENCE_MOST / 2)];
    let end = &sentence[sentence.ceil_char_boundary(sentence.len() - SENTENCE_MOST / 4)..];
    format!("{begin} … {end}")
}

/// The pointer, or that of the innermost member around that is short enough.
fn bounded_pointer(mut pointer: String) -> String {
    if pointer.len() > SENTENCE_MOST {
        pointer.truncate(pointer.floor_char_boundary(SENTENCE_MOST));
        pointer.truncate(pointer.rfind('/').unwrap_or(0));
    }
    pointer
}

macro_rules! codes {
    ($($(#[doc = $doc:literal])* $code:ident $word:literal $kind:ident;)*) => {
        /// The codes of faults, for programs.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
        pub enum FaultCode {
            $($(#[doc = $doc])* #[serde(rename = $word)] $code,)*
        }

        impl FaultCode {
            /// All codes.
            pub const ALL: &[Self] = &[$(Self::$code),*];

            /// The code on the wire.
            #[must_use]
            pub const fn word(self) -> &'static str {
                match self {
                    $(Self::$code => $word,)*
                }
            }

            /// The type of problem that this fault causes.
            #[must_use]
            pub const fn kind(self) -> ProblemKind {
                match self {
                    $(Self::$code => ProblemKind::$kind,)*
                }
            }

            /// Its meaning.
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
    /// A required member is missing.
    Missing "missing" Malformed;
    /// No member, option or heading has this name.
    UnknownMember "unknown_member" Malformed;
    /// The word is not one of those allowed here.
    UnknownWord "unknown_word" Malformed;
    /// The value has the wrong type.
    WrongType "wrong_type" Malformed;
    /// A name chosen by the caller contains a character that is not allowed.
    WrongName "wrong_name" Malformed;
    /// The same member is given more than once.
    GivenTwice "given_twice" Malformed;
    /// A list or text is empty.
    Empty "empty" Malformed;
    /// A text or a path is too long.
    TooLong "too_long" Malformed;
    /// The value can be read in more than one way.
    Ambiguous "ambiguous" Malformed;
    /// The headings, encoding or rows of the table cannot be read.
    UnreadableTable "unreadable_table" Malformed;
    /// The document does not match the published schema in some other way.
    WrongShape "wrong_shape" Malformed;
    /// The number is too large for a computer, or is not a finite number.
    NotFinite "not_finite" OutOfRange;
    /// The number is outside its range.
    OutOfRange "out_of_range" OutOfRange;
    /// There are too many entries or members.
    TooMany "too_many" OutOfRange;
    /// The value contradicts another one, or names something that the request does not contain.
    Inconsistent "inconsistent" Inconsistent;
    /// The target cannot be reached with the data given.
    Unreachable "unreachable" Unreachable;
    /// The data given do not determine the answer.
    NotIdentifiable "not_identifiable" NotIdentifiable;
    /// An answer was found but could not be proven.
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
            "Code of a fault, for programs. More codes may be added.\n\n{}",
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
