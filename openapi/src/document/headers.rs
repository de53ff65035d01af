//! Headers that go with every request and answer, and those of some problems.

use serde_json::{Map, Value, json};

/// What every operation may be sent besides its own parameters.
pub(crate) fn sent() -> [Value; 2] {
    ["RequestId", "TraceParent"]
        .map(|name| json!({ "$ref": format!("#/components/parameters/{name}") }))
}

/// What a calculation may be sent besides: how much of the record is wanted.
pub(crate) fn preference() -> Value {
    json!({ "$ref": "#/components/parameters/Preference" })
}

/// The parameters that [`sent`] and [`preference`] refer to. They have no example: the documentation page
/// would fill it in, and everybody's requests would go by the same ID.
pub(crate) fn parameters() -> Map<String, Value> {
    let header = |name: &str, description: &str| {
        json!({
            "name": name,
            "in": "header",
            "description": description,
            "schema": { "type": "string" },
        })
    };
    let id = "The caller's own ID for this request. It is returned and written to the service's \
              log; if none is sent, the service makes one.";
    let trace =
        "The trace that this request belongs to, by the W3C's Trace Context. It is returned.";
    let preference = "`return=minimal` leaves `balance` and `assumptions` out of a record in JSON, \
                      and lists of `findings` and `cautions` the codes alone; the answer then has \
                      the header `Preference-Applied` (RFC 7240). It is no whole record: a client \
                      generated from this document cannot read it as one.";
    Map::from_iter([
        ("Preference".to_owned(), header(PREFERENCE, preference)),
        ("RequestId".to_owned(), header(REQUEST_ID, id)),
        ("TraceParent".to_owned(), header(TRACE_PARENT, trace)),
    ])
}

const PREFERENCE: &str = "Prefer";
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
    /// Whether it goes with an answer or a problem.
    goes_with: fn(GoesOut) -> bool,
}

/// What goes out.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum GoesOut {
    /// The answer of a calculation.
    Record,
    /// Any other answer.
    Answer,
    /// A problem of this status.
    Problem(u16),
}

const HEADERS: [Header; 8] = [
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
        description: "Where the rate is limited: the requests left (`r`), and the seconds until \
                      all are available again (`t`). A structured field (RFC 9651).",
        always: false,
        schema: text,
        example: || "\"requests\";r=118;t=1".into(),
        goes_with: |_| true,
    },
    Header {
        name: "RateLimit-Policy",
        description: "Where the rate is limited: so many requests (`q`) in so many seconds (`w`). \
                      A structured field (RFC 9651).",
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
        goes_with: |out| matches!(out, GoesOut::Problem(401 | 403)),
    },
    Header {
        name: "Allow",
        description: "The methods that the address takes.",
        always: true,
        schema: text,
        example: || "GET, HEAD, OPTIONS, POST".into(),
        goes_with: |out| out == GoesOut::Problem(405),
    },
    Header {
        name: "Retry-After",
        description: "Number of seconds after which to try again. Not sent for a calculation \
                      that was cut off: the same request would take as long again.",
        always: false,
        schema: || json!({ "type": "integer", "minimum": 1 }),
        example: || 2.into(),
        goes_with: |out| matches!(out, GoesOut::Problem(429 | 503)),
    },
    Header {
        name: "Preference-Applied",
        description: "The preference that was followed, where one was (RFC 7240).",
        always: false,
        schema: text,
        example: || "return=minimal".into(),
        goes_with: |out| out == GoesOut::Record,
    },
];

fn text() -> Value {
    json!({ "type": "string" })
}

/// The headers of what goes out. Those that always come are
/// referred to. The others are written out: to a generator in TypeScript a header that is
/// referred to is one that always comes.
pub(crate) fn of(goes_out: GoesOut) -> Value {
    let all = HEADERS.iter().filter(|header| (header.goes_with)(goes_out)).map(|header| {
        let told = if header.always {
            json!({ "$ref": format!("#/components/headers/{}", header.name) })
        } else {
            header.told()
        };
        (header.name.to_owned(), told)
    });
    Value::Object(all.collect())
}

/// The headers that [`of`] refers to.
pub(crate) fn components() -> Map<String, Value> {
    let always = HEADERS.iter().filter(|header| header.always);
    always.map(|header| (header.name.to_owned(), header.told())).collect()
}

impl Header {
    fn told(&self) -> Value {
        let mut told = json!({ "description": self.description });
        if self.always {
            told["required"] = true.into();
        }
        told["schema"] = (self.schema)();
        told["example"] = (self.example)();
        told
    }
}
