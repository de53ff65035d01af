//! The identity of a request across systems: W3C Trace Context and the request's id.

use actix_web::http::header::HeaderMap;
use actix_web::{HttpMessage, HttpRequest};
use std::fmt;
use std::sync::Arc;

/// Maximum length of a caller's own id; a longer one is ignored.
const ID_MOST: usize = 128;

/// A place in a trace (W3C Trace Context, `traceparent`).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TracePlace {
    /// The trace that the request is part of.
    pub trace: u128,
    /// The span of the sender.
    pub span: u64,
    /// Flags; the lowest bit says that the trace is recorded.
    pub flags: u8,
}

impl TracePlace {
    /// Reads a `traceparent`. A later version is read as far as the fields of this
    /// version, as the recommendation asks.
    #[must_use]
    pub fn read(header: &str) -> Option<Self> {
        let mut parts = header.split('-');
        let (version, trace) = (parts.next()?, parts.next()?);
        let (span, flags) = (parts.next()?, parts.next()?);
        let more = parts.next().is_some();
        let version = hexadecimal(version, 2)?;
        let known = version != 0xff && (version != 0 || !more);
        let read = Self {
            trace: hexadecimal(trace, 32)?,
            span: hexadecimal(span, 16)?.try_into().ok()?,
            flags: hexadecimal(flags, 2)?.try_into().ok()?,
        };
        (known && read.trace != 0 && read.span != 0).then_some(read)
    }

    /// The place given in the headers of a request.
    #[must_use]
    pub fn of_caller(headers: &HeaderMap) -> Option<Self> {
        headers.get("traceparent").and_then(|given| Self::read(given.to_str().ok()?))
    }

    /// A span below the caller's span, or in a new trace.
    #[must_use]
    pub fn below(caller: Option<Self>) -> Self {
        let span = fastrand::u64(1..);
        match caller {
            Some(caller) => Self { span, ..caller },
            None => Self { trace: fastrand::u128(1..), span, flags: 0 },
        }
    }
}

/// What of a request a span is named and described by once it has been answered.
pub struct RequestEnd<'a> {
    /// The method.
    pub method: &'a str,
    /// The path as sent, without its query.
    pub path: &'a str,
    /// The address by which the router knows it, if it is one.
    pub route: Option<&'a str>,
    /// The calculation, if it is one.
    pub calculation: Option<&'static str>,
    /// The name of the caller's key, if it has one.
    pub caller: Option<&'a str>,
    /// The id of the request.
    pub id: &'a str,
    /// The status of the answer.
    pub status: u16,
    /// What came of it, in a word.
    pub outcome: &'static str,
}

impl fmt::Display for TracePlace {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "00-{:032x}-{:016x}-{:02x}", self.trace, self.span, self.flags)
    }
}

/// A fixed number of lower-case hexadecimal digits.
fn hexadecimal(text: &str, digits: usize) -> Option<u128> {
    let lower = text.bytes().all(|c| c.is_ascii_digit() || (b'a'..=b'f').contains(&c));
    (text.len() == digits && lower).then(|| u128::from_str_radix(text, 16).ok())?
}

/// The id of a request, for the log and the caller.
#[derive(Debug, Clone)]
pub struct RequestId(Arc<str>);

impl RequestId {
    /// The caller's own `X-Request-Id` if it is valid, otherwise the id of the trace.
    #[must_use]
    pub fn new(headers: &HeaderMap, trace: &TracePlace) -> Self {
        let given = headers.get("x-request-id").and_then(|given| given.to_str().ok());
        let sound = |id: &&str| {
            (1..=ID_MOST).contains(&id.len())
                && id.bytes().all(|c| c.is_ascii_alphanumeric() || b"-_.:/+=@".contains(&c))
        };
        let own = || format!("{:032x}", trace.trace).into();
        Self(given.filter(sound).map_or_else(own, Into::into))
    }

    /// The id of a request that has passed the gate.
    #[must_use]
    pub fn of(request: &HttpRequest) -> String {
        request.extensions().get::<Self>().map(|id| id.0.to_string()).unwrap_or_default()
    }

    /// The id as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The examples of the recommendation (W3C Trace Context, 3.2.2 and 3.2.4).
    #[test]
    fn a_traceparent_is_read_as_the_recommendation_has_it() {
        let text = "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01";
        let trace = TracePlace::read(text).expect("it is sound");
        assert_eq!((trace.span, trace.flags), (0x00f0_67aa_0ba9_02b7, 1));
        assert_eq!(trace.to_string(), text);
        let later = "cc-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01-what-will-be";
        assert_eq!(TracePlace::read(later), Some(trace));
        for wrong in [
            "",
            "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7",
            "00-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01-more",
            "ff-4bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01",
            "00-00000000000000000000000000000000-00f067aa0ba902b7-01",
            "00-4bf92f3577b34da6a3ce929d0e0e4736-0000000000000000-01",
            "00-4BF92F3577B34DA6A3CE929D0E0E4736-00f067aa0ba902b7-01",
            "00-4bf92f3577b34da6a3ce929d0e0e473-00f067aa0ba902b7-01",
            "00-+bf92f3577b34da6a3ce929d0e0e4736-00f067aa0ba902b7-01",
        ] {
            assert_eq!(TracePlace::read(wrong), None, "{wrong}");
        }
    }
}
