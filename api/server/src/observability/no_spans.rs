//! Replaces `spans` in a program built without OTLP: a request has a place in its
//! trace, but nothing is sent.

use super::trace::{RequestEnd, TracePlace};

/// Sends nothing.
pub struct Spans;

/// The place of one request in its trace.
pub struct RequestSpan {
    /// The place of the request in its trace.
    pub place: TracePlace,
}

impl Spans {
    /// Refuses an endpoint, since nothing can be sent to it.
    pub fn of(endpoint: Option<&str>) -> Result<Self, String> {
        match endpoint {
            None => Ok(Self),
            Some(_) => {
                Err("otlp_endpoint is set, but this program was built without OTLP. Take a program from an archive, or build \
                     it with --features otlp.".to_owned())
            }
        }
    }

    /// A place below the caller's span, or in a new trace.
    pub fn begin(&self, _: &str, caller: Option<TracePlace>, _: Option<&str>) -> RequestSpan {
        RequestSpan { place: TracePlace::below(caller) }
    }

    /// Does nothing: there is nothing to send.
    pub fn end(&self) {}
}

impl RequestSpan {
    /// Does nothing.
    pub fn end(self, _: &RequestEnd<'_>) {}
}
