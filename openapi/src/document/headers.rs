//! Headers that go with every request and answer, and those of some problems.

use serde_json::{Value, json};

/// What every operation may be sent besides its own parameters.
pub(crate) fn sent() -> [Value; 2] {
    ["RequestId", "TraceParent"]
        .map(|name| json!({ "$ref": format!("#/components/parameters/{name}") }))
}

/// The parameters that [`sent`] refers to.
pub(crate) fn parameters() -> Value {
    let header = |name: &str, description: &str, example: &str| {
        json!({
            "name": name,
            "in": "header",
            "required": false,
            "description": description,
            "schema": { "type": "string" },
            "example": example,
        })
    };
    json!({
        "RequestId": header(
            REQUEST_ID,
            "The caller's own ID for this request. It is returned and written to the service's \
             log; if none is sent, the service makes one.",
            EXAMPLE_ID,
        ),
        "TraceParent": header(
            TRACE_PARENT,
            "The trace that this request belongs to, by the W3C's Trace Context. It is returned.",
            EXAMPLE_TRACE,
        ),
    })
}

const REQUEST_ID: &str = "X-Request-Id";
const TRACE_PARENT: &str = "traceparent";
const EXAMPLE_ID: &str = "order-27-batch-2";
/// The example of the recommendation itself: <https://www.w3.org/TR/trace-context/>.
const EXAMPLE_TRACE: &str = "00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01";

struct Header {
    name: &'static str,
    description: &'static str,
    /// Whether it comes with every response that it goes with.
    always: bool,
    schema: fn() -> Value,
    example: fn() -> Value,
    /// Whether it goes with an answer, and with a problem of a status.
    goes_with: fn(Option<u16>) -> bool,
}

const HEADERS: [Header; 7] = [
    Header {
        name: REQUEST_ID,
        description: "ID of the request: the caller's own, or one that the service made. Quote \
                      it when you report a fault.",
        always: true,
        schema: text,
        example: || EXAMPLE_ID.into(),
        goes_with: |_| true,
    },
    Header {
        name: TRACE_PARENT,
        description: "The trace that the request belongs to, by the W3C's Trace Context.",
        always: true,
        schema: text,
        example: || EXAMPLE_TRACE.into(),
        goes_with: |_| true,
    },
    Header {
        name: "RateLimit",
        description: "Where the service limits the rate: the number of requests left (`r`) and \
                      of seconds until all are available again (`t`). A structured field (RFC 9651).",
        always: false,
        schema: text,
        example: || "\"requests\";r=118;t=1".into(),
        goes_with: |_| true,
    },
    Header {
        name: "RateLimit-Policy",
        description: "Where the service limits the rate: the number of requests (`q`) in a \
                      number of seconds (`w`). A structured field (RFC 9651).",
        always: false,
        schema: text,
        example: || "\"requests\";q=120;w=60".into(),
        goes_with: |_| true,
    },
    Header {
        name: "WWW-Authenticate",
        description: "What to send: `Bearer`, a key.",
        always: true,
        schema: text,
        example: || "Bearer".into(),
        goes_with: |status| status == Some(401),
    },
    Header {
        name: "Allow",
        description: "The methods that the address takes.",
        always: true,
        schema: text,
        example: || "GET, HEAD, OPTIONS, POST".into(),
        goes_with: |status| status == Some(405),
    },
    Header {
        name: "Retry-After",
        description: "Number of seconds after which to try again. Not sent for a calculation \
                      that was cut off: the same request would take as long again.",
        always: false,
        schema: || json!({ "type": "integer", "minimum": 1 }),
        example: || 2.into(),
        goes_with: |status| matches!(status, Some(429 | 503)),
    },
];

fn text() -> Value {
    json!({ "type": "string" })
}

/// The headers of an answer, or of a problem with this status. They are written
/// out, because generators take a header that is referred to for one that always
/// comes.
pub(crate) fn of(status: Option<u16>) -> Value {
    let all = HEADERS.iter().filter(|header| (header.goes_with)(status)).map(|header| {
        let described = json!({
            "description": header.description,
            "required": header.always,
            "schema": (header.schema)(),
            "example": (header.example)(),
        });
        (header.name.to_owned(), described)
    });
    Value::Object(all.collect())
}
