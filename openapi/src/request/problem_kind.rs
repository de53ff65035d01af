//! The types of problem, and the one table that gives each its status.

/// One row of the table of problems.
#[derive(Debug, PartialEq, Eq)]
pub struct ProblemRow {
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
            pub const fn row(self) -> &'static ProblemRow {
                match self {
                    $(Self::$kind => &ProblemRow {
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
         the calculation shows a correct document.";
    /// Nobody the service knows.
    NoKey "no-key" 401 "A key is needed"
        "The service needs a key. Send it as Authorization: Bearer; whoever runs the service \
         hands out keys. A key that was withdrawn or mistyped gets the same answer.";
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
        "A number is impossible (a negative volume, more than 100 %, not a finite number) or \
         outside the range of a published table. Each entry of errors gives the range.";
    /// Members that contradict each other.
    Inconsistent "inconsistent" 422 "The request contradicts itself"
        "Two or more members cannot both be true: a sump fuller than its capacity, a band whose \
         low end lies above its high end, a name that nothing has. Correct one of them. Or a \
         property is followed that does not mix in a straight line, such as pH or a count of microbes; \
         the error says what answers instead.";
    /// No batch does it.
    Unreachable "unreachable" 422 "The target cannot be reached"
        "The target cannot be reached with what was given. The member reachable, where present, \
         says what can be reached, and each entry of errors what would have to change.";
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
        "The number of requests a minute is limited for each key, or for each address where \
         there are no keys. Retry-After says after how many seconds to try again; RateLimit says \
         how many requests are left.";
    /// A fault of the service.
    Internal "internal" 500 "The service failed"
        "The fault is the service's and not the request's. Please report it with the X-Request-Id of \
         the answer.";
    /// More at once than the service takes.
    TooBusy "too-busy" 503 "The service is too busy"
        "The service is answering and queueing as many requests as it can. Nothing is lost: send \
         the request again after the number of seconds in Retry-After.";
    /// A calculation that was cut off.
    TooLong "too-long" 503 "The calculation took too long"
        "The calculation was cut off because it took longer than the service allows. Ask for less at \
         once: fewer draws, sumps or stocks, a shorter horizon. The same request would take as \
         long again.";
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
