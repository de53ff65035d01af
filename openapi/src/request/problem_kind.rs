//! The types of problem and the one table that gives each its status.

/// One row of the table of problems.
#[derive(Debug, PartialEq, Eq)]
pub struct ProblemRow {
    /// Last part of its address under `/problems/`.
    pub slug: &'static str,
    /// Its HTTP status.
    pub status: u16,
    /// Its title.
    pub title: &'static str,
    /// The text of its page.
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
    /// The document is not JSON or does not match the schema.
    Malformed "malformed" 400 "The request is not of the right shape"
        "The document is not JSON, or a member is missing, misspelt, given twice or of the wrong \
         type. Each entry of errors gives the place and says what is expected there. The example \
         of the calculation is a correct document.";
    /// A page of another site may not ask.
    OtherSite "other-site" 400 "Pages of this site may not ask"
        "A page of another site asked in a browser, and whoever runs the service has not listed that \
         site in cors_origins, or it asked by a method or with a header that such pages may not use. \
         Programs that are no pages are not concerned.";
    /// The caller has no valid key.
    NoKey "no-key" 401 "A key is needed"
        "This service needs a key. Send it in the header Authorization: Bearer KEY. The operator \
         of the service issues keys. A key that was withdrawn or mistyped gets the same answer.";
    /// The caller's key is for something else.
    NotAllowed "not-allowed" 403 "The key is not for that"
        "A key that may stand in an address (for cells of a spreadsheet, which can send no header) \
         only asks by GET, and only for the calculations that the operator of the service named \
         for it. For anything else send another key in the header Authorization: Bearer KEY.";
    /// Nothing is at the address.
    NotFound "not-found" 404 "There is nothing at this address"
        "The address names no calculation or page of this service. The list of calculations is at \
         /v1.";
    /// The address does not accept the method.
    MethodNotAllowed "method-not-allowed" 405 "This address does not accept that method"
        "The Allow header of the answer lists the methods that the address accepts.";
    /// The answer is not available in that format.
    NotAcceptable "not-acceptable" 406 "The answer is not available in the requested format"
        "The Accept header, or format in the query, asks for a format in which this answer is not \
         available. Answers are application/json and, to GET, also text/csv and text/plain.";
    /// A request that did not arrive in time.
    TooSlow "too-slow" 408 "The request did not arrive in time"
        "The service waits a limited time for the rest of a request. Send the request again \
         without a pause.";
    /// The request exceeds a limit.
    TooLarge "too-large" 413 "The request is too large"
        "A single document is limited to 8 MiB and 500,000 values, and its answer to 16 MiB. Send \
         fewer or smaller documents, or ask for less at once.";
    /// The service does not read the request's format.
    UnsupportedMediaType "unsupported-media-type" 415 "The format of the request is not supported"
        "Send the document as application/json, in UTF-8 and without content encoding.";
    /// A number is outside its range.
    OutOfRange "out-of-range" 422 "A number is out of range"
        "A number is impossible (a negative volume, more than 100 %, not a finite number) or \
         outside the range of a published table. Each entry of errors gives the range.";
    /// Members that contradict each other.
    Inconsistent "inconsistent" 422 "The request contradicts itself"
        "Two or more members cannot all be true: a sump fuller than its capacity, a band whose \
         low end lies above its high end, a name that nothing in the request has. Correct one of \
         them. Or a property does not mix in a straight line, such as pH or a count of microbes; \
         the error says which calculation to use instead.";
    /// No batch reaches the target.
    Unreachable "unreachable" 422 "The target cannot be reached"
        "The target cannot be reached with the data given. If the member reachable is present, it \
         says what can be reached; each entry of errors says what would have to change.";
    /// The data given do not determine the answer.
    NotIdentifiable "not-identifiable" 422 "The data do not determine the answer"
        "The request is valid, but it leaves open something that the answer depends on. Each \
         entry of errors says what is missing.";
    /// An answer was found but could not be proven.
    Unproven "unproven" 422 "An answer was found but could not be proven"
        "The service gives no answer that it cannot prove: the solver's optimum must be confirmed \
         by its dual, and the material balance must close. Numbers that differ by many orders of \
         magnitude can prevent both; check their units.";
    /// The caller exceeded its request limit.
    TooMany "too-many" 429 "Too many requests"
        "The number of requests per minute is limited for each key, or for each address if the \
         service has no keys. Retry-After says after how many seconds to try again; RateLimit says \
         how many requests are left.";
    /// The service has an error.
    Internal "internal" 500 "The service failed"
        "This is an error in the service, not in the request. Please report it with the \
         X-Request-Id of the answer.";
    /// The service has as many requests as it can take.
    TooBusy "too-busy" 503 "The service is too busy"
        "The service is answering and queueing as many requests as it can. Nothing is lost: send \
         the request again after the number of seconds in Retry-After.";
    /// The calculation was cut off.
    TooLong "too-long" 503 "The calculation took too long"
        "The calculation was cut off because it took longer than the service allows. Ask for less \
         at once: fewer draws, sumps or stocks, or a shorter horizon. Sending the same request \
         again does not help.";
    /// The service is shutting down.
    Stopping "stopping" 503 "The service is stopping"
        "The service is shutting down and only finishes the requests it has accepted. Send the \
         request again, to another replica or once the service is back.";
}

impl ProblemKind {
    /// Seconds after which to ask again, if that makes sense.
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
