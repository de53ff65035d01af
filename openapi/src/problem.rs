//! Problems (RFC 9457), and the one table that gives each its status.

use serde::{Deserialize, Serialize};
use serde_json::Value;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{FAULTS_LISTED, Kind, Reachable, Refusal};
use utoipa::ToSchema;

/// Media type of a problem.
pub const MEDIA_TYPE: &str = "application/problem+json";

/// Why there is no answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(title = "Problem")]
pub struct Problem {
    /// Address of a page, on this server, that explains this type of problem.
    #[schema(example = "/problems/inconsistent")]
    pub r#type: String,
    /// The type of problem in a few words.
    #[schema(example = "The request contradicts itself")]
    pub title: String,
    /// The HTTP status.
    #[schema(example = 422, minimum = 400, maximum = 599)]
    pub status: u16,
    /// What is wrong and how to mend it, for a person.
    #[schema(example = "The sump is fuller than full: 240 L in a capacity of 200 L.")]
    pub detail: String,
    /// Every fault of the document, each at its place; of more than 100 the first 100.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub errors: Vec<Fault>,
    /// The caller's own text, as it came.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub reference: Option<String>,
    /// What could be reached instead, in the units of the request.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(value_type = Option<Reachable>)]
    pub reachable: Option<Value>,
}

/// One fault of a document.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
pub struct Fault {
    /// JSON pointer (RFC 6901) to the member at fault; empty for the document
    /// as a whole.
    #[schema(example = "/sump/volume")]
    pub pointer: String,
    /// What is wrong with it and how to mend it.
    #[schema(example = "The sump is fuller than full: 240 L in a capacity of 200 L.")]
    pub detail: String,
}

impl Fault {
    /// A fault at `pointer`.
    pub fn new(pointer: impl Into<String>, detail: impl Into<String>) -> Self {
        Self { pointer: pointer.into(), detail: detail.into() }
    }
}

/// One row of the table of problems.
#[derive(Debug, PartialEq, Eq)]
pub struct Row {
    /// Last part of its address under `/problems/`.
    pub slug: &'static str,
    /// Its HTTP status.
    pub status: u16,
    /// Its title.
    pub title: &'static str,
    /// What its page says.
    pub page: &'static str,
}

macro_rules! problems {
    ($($(#[$doc:meta])* $kind:ident $slug:literal $status:literal $title:literal $page:literal;)*) => {
        /// The types of problem.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
        pub enum ProblemKind {
            $($(#[$doc])* $kind,)*
        }

        impl ProblemKind {
            /// Every type of problem.
            pub const ALL: &[Self] = &[$(Self::$kind),*];

            /// Its row of the table.
            #[must_use]
            pub const fn row(self) -> &'static Row {
                match self {
                    $(Self::$kind => &Row {
                        slug: $slug, status: $status, title: $title, page: $page,
                    },)*
                }
            }
        }
    };
}

problems! {
    /// Not JSON, or not the shape.
    Malformed "malformed" 400 "The request is not of the right shape"
        "The document is not JSON, or a member is missing, misspelt, given twice or of the wrong \
         type. Each entry of errors points at a place and says what belongs there. The example of \
         the calculation shows a document that is right.";
    /// Nobody the service knows.
    NoKey "no-key" 401 "A key is needed"
        "The service answers callers that it knows. Send Authorization: Bearer with the key that \
         whoever runs the service has given you. A key that was withdrawn or mistyped is answered \
         the same way.";
    /// No such address.
    NotFound "not-found" 404 "There is nothing at this address"
        "The address names no calculation or page of this service. The list of calculations is at \
         /v1.";
    /// The wrong method.
    MethodNotAllowed "method-not-allowed" 405 "This address does not take that method"
        "The Allow header of the answer lists the methods that the address takes.";
    /// No such format.
    NotAcceptable "not-acceptable" 406 "The answer does not come in the format asked for"
        "The Accept header, or format in the query, asks for a format that this answer does not \
         come in. Answers come as application/json; to GET also as text/csv and text/plain.";
    /// A request that did not arrive in time.
    TooSlow "too-slow" 408 "The request did not arrive in time"
        "The service waits only so long for the rest of a request. Send it again in one go.";
    /// Past a limit.
    TooLarge "too-large" 413 "The request is too large"
        "A single document may be 8 MiB long and hold 500,000 values, and its answer may be 16 MiB \
         long. Send fewer or smaller documents, or ask for less at once.";
    /// An unknown format.
    UnsupportedMediaType "unsupported-media-type" 415 "The request is in a format not understood here"
        "Send the document as application/json, in UTF-8 and without content encoding.";
    /// A number that cannot be.
    OutOfRange "out-of-range" 422 "A number is out of range"
        "A number cannot be what it says: a negative volume, more than 100 %, not a finite number, \
         or outside the range that a published table covers. Each entry of errors gives the range.";
    /// Members that contradict each other.
    Inconsistent "inconsistent" 422 "The request contradicts itself"
        "Two or more members cannot both be true: a sump fuller than its capacity, a band whose \
         low end lies above its high end, a name that stands for nothing. Correct one of them. Or a \
         property is followed that does not mix in a straight line, such as pH or a count of microbes; \
         the error says what answers instead.";
    /// No batch does it.
    Unreachable "unreachable" 422 "The target cannot be reached"
        "Nothing that could be done with what was given reaches the target. The member reachable, \
         where present, says what can be had, and each entry of errors what would have to change.";
    /// What was given cannot tell what was asked.
    NotIdentifiable "not-identifiable" 422 "What was given cannot tell what was asked"
        "The request is sound but leaves open something that the answer depends on. Each entry of \
         errors says what is missing.";
    /// Found but not proven.
    Unproven "unproven" 422 "An answer was found but could not be proven"
        "The service gives no answer that it cannot prove: the solver's optimum must be confirmed \
         from the other side and the material balance must close. Numbers that are very far apart \
         can prevent both; check their units.";
    /// More requests than the caller may send.
    TooMany "too-many" 429 "Too many requests"
        "A key, or without keys an address, may send so many requests a minute. Retry-After says in \
         how many seconds the next is answered; RateLimit says what is left.";
    /// A fault of the service.
    Internal "internal" 500 "The service failed"
        "The fault is the service's and not the request's. Please report it with the X-Request-Id of \
         the answer.";
    /// More at once than the service takes.
    TooBusy "too-busy" 503 "The service is too busy"
        "As many requests are being answered and waiting as the service takes. Nothing is lost: send \
         the request again after the seconds that Retry-After says.";
    /// A calculation that was cut off.
    TooLong "too-long" 503 "The calculation took too long"
        "The calculation was cut off because it took longer than the service allows. Ask for less at \
         once: fewer draws, sumps or stocks, a shorter horizon. The same again would take as long.";
    /// On its way out.
    Stopping "stopping" 503 "The service is stopping"
        "The service is being shut down and finishes what it has taken. Another replica, or this one \
         once it is back, answers the request.";
}

impl ProblemKind {
    /// In how many seconds it makes sense to ask again, where it does.
    #[must_use]
    pub const fn retry_after(self) -> Option<u32> {
        match self {
            Self::TooMany | Self::TooBusy => Some(1),
            Self::Stopping => Some(5),
            _ => None,
        }
    }

    /// Its address.
    #[must_use]
    pub fn address(self) -> String {
        format!("/problems/{}", self.row().slug)
    }
}

impl From<Kind> for ProblemKind {
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

impl Problem {
    /// A problem with one fault.
    #[must_use]
    pub fn new(kind: ProblemKind, fault: Fault) -> Self {
        Self::with_faults(kind, vec![fault])
    }

    /// A problem with all the faults of a document, or the first hundred of them.
    #[must_use]
    pub fn with_faults(kind: ProblemKind, mut errors: Vec<Fault>) -> Self {
        let there_are_more = errors.len() > FAULTS_LISTED;
        errors.truncate(FAULTS_LISTED);
        let detail = match errors.as_slice() {
            [] => kind.row().page.to_owned(),
            [only] => only.detail.clone(),
            [first, rest @ ..] => {
                let more = rest.len();
                let and_no_more = if there_are_more {
                    format!(", which lists the first {FAULTS_LISTED}")
                } else {
                    String::new()
                };
                format!("{} (and {more} more in errors{and_no_more})", first.detail)
            }
        };
        Self::about(kind, detail, errors)
    }

    /// The row that it belongs to.
    #[must_use]
    pub fn kind(&self) -> Option<ProblemKind> {
        let slug = self.r#type.rsplit('/').next()?;
        ProblemKind::ALL.iter().copied().find(|kind| kind.row().slug == slug)
    }

    /// A problem that is not about a place in a document.
    pub fn plain(kind: ProblemKind, detail: impl Into<String>) -> Self {
        Self::about(kind, detail.into(), Vec::new())
    }

    fn about(kind: ProblemKind, detail: String, errors: Vec<Fault>) -> Self {
        let Row { status, title, .. } = *kind.row();
        let (r#type, title) = (kind.address(), title.to_owned());
        Self { r#type, title, status, detail, errors, reference: None, reachable: None }
    }

    /// A refusal of the engine, in the units of the caller. What could be
    /// reached is still metric and is rescaled with the shape of a problem.
    #[must_use]
    pub fn refused(refusal: &Refusal, units: UnitSystem) -> Self {
        let faults =
            refusal.faults.iter().map(|f| Fault::new(f.pointer.as_str(), f.detail.show(units)));
        let mut problem = Self::with_faults(refusal.kind.into(), faults.collect());
        problem.reachable = refusal.reachable.and_then(|r| serde_json::to_value(r).ok());
        problem
    }

    /// Every fault in one text, each with the path of its member, for whoever
    /// sees nothing else of the problem: a spreadsheet's cell.
    #[must_use]
    pub fn in_a_cell(&self) -> String {
        let faults = self.errors.iter().map(|fault| {
            let path = fault.pointer.trim_start_matches('/').replace('/', ".");
            if path.is_empty() { fault.detail.clone() } else { format!("{path}: {}", fault.detail) }
        });
        let faults: Vec<String> = faults.collect();
        if faults.is_empty() { self.detail.clone() } else { faults.join(" ") }
    }
}
