//! The twin of `spans` in a program that is built without OTLP: a request has a place in
//! its trace, and nothing is sent.

use super::trace::TracePlace;

/// Goes nowhere.
pub struct Spans;

/// The place of one request in its trace.
pub struct RequestSpan {
    /// Where in the trace the request is answered.
    pub place: TracePlace,
}

impl Spans {
    /// Refuses an endpoint, since nothing can be sent to it.
    pub fn of(endpoint: Option<&str>) -> Result<Self, String> {
        match endpoint {
            None => Ok(Self),
            Some(_) => {
                Err("otlp_endpoint is set, but this program was built without OTLP.".to_owned())
            }
        }
    }

    /// A place below the caller's, or in a trace that begins here.
    pub fn begin(&self, _: &str, _: &str, caller: Option<TracePlace>) -> RequestSpan {
        RequestSpan { place: TracePlace::below(caller) }
    }

    /// There is nothing left to send.
    pub fn end(&self) {}
}

impl RequestSpan {
    /// Nobody is told.
    pub fn end(self, _: &str, _: &str, _: u16, _: &'static str) {}
}
