//! The formats of documents and answers: media types, and the caller's `Accept`.

use actix_web::HttpRequest;
use actix_web::http::header::{
    ACCEPT, Accept, CONTENT_ENCODING, CONTENT_TYPE, Header, HeaderMap, Quality,
};
use sumpwright_openapi::lines;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Service;

/// The formats of an answer.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// A JSON document.
    Json,
    /// CSV with one name and one value per line.
    Csv,
    /// Text for people and cells.
    Text,
    /// The steps as a job sheet for printing.
    JobSheet,
    /// Pictures, for a page or a notice board.
    Pictures,
    /// Events of days, for a calendar.
    Events,
    /// JSON documents, a line each.
    Ndjson,
    /// The same under its other name.
    JsonLines,
}

impl Format {
    /// The formats that a query and the command line can ask for, with their names there.
    pub(crate) const NAMED: [(&str, Self); 5] = [
        ("json", Self::Json),
        ("csv", Self::Csv),
        ("text", Self::Text),
        ("svg", Self::Pictures),
        ("ics", Self::Events),
    ];

    /// The formats of an answer, the most likely first.
    #[must_use]
    pub fn offered(service: &Service) -> Vec<Self> {
        let mut offered = vec![Self::Json, Self::Csv, Self::Text];
        if service.has_sheet() {
            offered.push(Self::JobSheet);
        }
        if service.has_pictures() {
            offered.push(Self::Pictures);
        }
        if service.has_events() {
            offered.push(Self::Events);
        }
        offered
    }

    /// Whether a calculation answers in it.
    #[must_use]
    pub fn is_of(self, service: &Service) -> bool {
        match self {
            Self::JobSheet => service.has_sheet(),
            Self::Pictures => service.has_pictures(),
            Self::Events => service.has_events(),
            _ => true,
        }
    }

    /// Whether it is made of a whole answer, and never of a value of it.
    #[must_use]
    pub const fn is_whole(self) -> bool {
        matches!(self, Self::JobSheet | Self::Pictures | Self::Events)
    }

    /// The formats of the answer to documents with these headers, theirs first.
    #[must_use]
    pub fn of_lines(headers: &HeaderMap) -> [Self; 2] {
        if essence(headers).eq_ignore_ascii_case(lines::JSON_LINES) {
            [Self::JsonLines, Self::Ndjson]
        } else {
            [Self::Ndjson, Self::JsonLines]
        }
    }

    /// Its media type, without parameters.
    #[must_use]
    pub const fn media_type(self) -> &'static str {
        match self {
            Self::Json => "application/json",
            Self::Csv => "text/csv",
            Self::Text => "text/plain",
            Self::JobSheet => "text/html",
            Self::Pictures => "image/svg+xml",
            Self::Events => "text/calendar",
            Self::Ndjson => lines::NDJSON,
            Self::JsonLines => lines::JSON_LINES,
        }
    }

    /// Its media type, with the parameters for a response.
    #[must_use]
    pub const fn content_type(self) -> &'static str {
        match self {
            Self::Json => "application/json",
            Self::Csv => "text/csv; charset=utf-8; header=present",
            Self::Text => "text/plain; charset=utf-8",
            Self::JobSheet => "text/html; charset=utf-8",
            Self::Pictures => "image/svg+xml",
            Self::Events => "text/calendar; charset=utf-8",
            Self::Ndjson => lines::NDJSON,
            Self::JsonLines => lines::JSON_LINES,
        }
    }

    /// The one of `offered` that the caller prefers.
    pub fn accepted(request: &HttpRequest, offered: &[Self]) -> Result<Self, Problem> {
        Self::most_welcome(request, offered).ok_or_else(|| {
            let kinds: Vec<&str> = offered.iter().map(|format| format.media_type()).collect();
            let detail =
                format!("This answer is available as {}. Accept one of these.", kinds.join(", "));
            Problem::plain(ProblemKind::NotAcceptable, detail)
        })
    }

    fn most_welcome(request: &HttpRequest, offered: &[Self]) -> Option<Self> {
        let Some(plain) = request.headers().get(ACCEPT) else { return offered.first().copied() };
        if plain.as_bytes() == b"*/*" {
            return offered.first().copied();
        }
        let Ok(accept) = Accept::parse(request) else { return offered.first().copied() };
        // Of several ranges that a kind is in, the most specific one holds (RFC 9110, 12.5.1).
        let refused = |kind: &str, all: &str| {
            let quality = |range: &str| {
                let said = accept.iter().find(|entry| entry.item.essence_str() == range);
                said.map(|entry| entry.quality)
            };
            let said = quality(kind).or_else(|| quality(all)).or_else(|| quality("*/*"));
            said == Some(Quality::ZERO)
        };
        accept.ranked().iter().find_map(|range| {
            offered.iter().copied().find(|format| {
                let kind = format.media_type();
                let (top, _) = kind.split_once('/').unwrap_or((kind, ""));
                let range = range.essence_str();
                let all = format!("{top}/*");
                (range == kind || range == "*/*" || range == all) && !refused(kind, &all)
            })
        })
    }
}

/// Whether the body with these headers is a table.
#[must_use]
pub fn is_table(headers: &HeaderMap) -> bool {
    essence(headers).eq_ignore_ascii_case("text/csv")
}

/// Whether the body with these headers is documents, a line each.
#[must_use]
pub fn is_lines(headers: &HeaderMap) -> bool {
    [lines::NDJSON, lines::JSON_LINES]
        .iter()
        .any(|name| essence(headers).eq_ignore_ascii_case(name))
}

/// The media type of a body, without parameters.
fn essence(headers: &HeaderMap) -> &str {
    let content_type = headers.get(CONTENT_TYPE).and_then(|value| value.to_str().ok());
    content_type.unwrap_or_default().split(';').next().unwrap_or_default().trim()
}

/// Whether the body with these headers is packed.
#[must_use]
pub fn is_encoded(headers: &HeaderMap) -> bool {
    headers.get(CONTENT_ENCODING).is_some_and(|encoding| {
        let encoding = encoding.as_bytes().trim_ascii();
        !encoding.is_empty() && !encoding.eq_ignore_ascii_case(b"identity")
    })
}

/// Whether the body with these headers is JSON. A document without a type is taken
/// as JSON.
#[must_use]
pub fn is_json(headers: &HeaderMap) -> bool {
    if !headers.contains_key(CONTENT_TYPE) {
        return true;
    }
    let essence = essence(headers);
    is_in_utf_8(headers)
        && (essence.eq_ignore_ascii_case("application/json")
            || essence.to_ascii_lowercase().ends_with("+json"))
}

/// Whether the body with these headers is in UTF-8: it is where they do not say.
#[must_use]
pub fn is_in_utf_8(headers: &HeaderMap) -> bool {
    let content_type = headers.get(CONTENT_TYPE).and_then(|value| value.to_str().ok());
    content_type.unwrap_or_default().split(';').skip(1).all(|parameter| {
        let Some((name, value)) = parameter.trim().split_once('=') else { return true };
        !name.eq_ignore_ascii_case("charset")
            || value.trim_matches('"').eq_ignore_ascii_case("utf-8")
    })
}
