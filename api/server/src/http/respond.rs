//! Answers and problems as responses.

use super::format::Format;
use super::html;
use crate::observability::metrics::RequestOutcome;
use crate::observability::trace::RequestId;
use actix_web::http::header::{self, HeaderName};
use actix_web::http::{Method, StatusCode};
use actix_web::{HttpRequest, HttpResponse, ResponseError};
use std::fmt;
use sumpwright_openapi::problem::{self, Problem, ProblemKind};
use sumpwright_openapi::service::Extent;

/// The result of a handler: a response or a problem.
pub type Handled = Result<HttpResponse, ProblemResponse>;

/// A problem on its way out of a handler.
#[derive(Debug)]
pub struct ProblemResponse(Box<Problem>);

impl From<Problem> for ProblemResponse {
    fn from(problem: Problem) -> Self {
        Self(Box::new(problem))
    }
}

impl fmt::Display for ProblemResponse {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0.detail)
    }
}

impl ResponseError for ProblemResponse {
    fn status_code(&self) -> StatusCode {
        StatusCode::from_u16(self.0.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR)
    }

    fn error_response(&self) -> HttpResponse {
        problem(&self.0)
    }
}

/// An answer that has been written.
#[must_use]
pub fn written(format: Format, body: Vec<u8>) -> HttpResponse {
    let mut response = HttpResponse::Ok();
    if matches!(format, Format::JobSheet | Format::Pictures) {
        html::guard(&mut response, html::STILL);
    }
    response.content_type(format.content_type()).body(body)
}

/// The response, saying that the preference for so much of a record was followed.
#[must_use]
pub fn saying_the_extent(mut response: HttpResponse, extent: Extent) -> HttpResponse {
    if extent == Extent::Minimal {
        let applied = header::HeaderValue::from_static("return=minimal");
        response.headers_mut().insert(HeaderName::from_static("preference-applied"), applied);
    }
    response
}

/// The response with the digest of its bytes.
#[must_use]
pub fn with_digest(mut response: HttpResponse, digest: Option<&str>) -> HttpResponse {
    if let Some(digest) = digest.and_then(|digest| header::HeaderValue::from_str(digest).ok()) {
        response.headers_mut().insert(HeaderName::from_static("content-digest"), digest);
    }
    response
}

/// A self-contained page.
#[must_use]
pub fn page(page: String) -> HttpResponse {
    let mut response = HttpResponse::Ok();
    html::guard(&mut response, html::STILL);
    response.content_type("text/html; charset=utf-8").body(page)
}

/// Nothing is at this address.
#[must_use]
pub fn nothing_at(path: &str) -> HttpResponse {
    let detail = format!("There is nothing at {path}. The calculations are listed at /v1.");
    problem(&Problem::plain(ProblemKind::NotFound, detail))
}

/// A document that has been written.
#[must_use]
pub fn json(document: Vec<u8>) -> HttpResponse {
    written(Format::Json, document)
}

/// A problem, with the status of its row.
#[must_use]
pub fn problem(problem: &Problem) -> HttpResponse {
    let status = StatusCode::from_u16(problem.status).unwrap_or(StatusCode::INTERNAL_SERVER_ERROR);
    let mut response = HttpResponse::build(status);
    if let Some(seconds) = problem.kind().and_then(ProblemKind::retry_after) {
        response.insert_header((header::RETRY_AFTER, seconds));
    }
    let response = response
        .content_type(problem::MEDIA_TYPE)
        .body(serde_json::to_vec(problem).unwrap_or_default());
    counted(response, problem)
}

/// Attaches the outcome of the request to the response.
fn counted(mut response: HttpResponse, problem: &Problem) -> HttpResponse {
    if let Some(kind) = problem.kind() {
        response.extensions_mut().insert(RequestOutcome::Problem(kind));
    }
    response
}

/// The answer to OPTIONS: the methods that an address accepts.
#[must_use]
pub fn allow(methods: &'static str) -> HttpResponse {
    HttpResponse::NoContent().insert_header((header::ALLOW, methods)).finish()
}

/// The refusal of a wrong method, with the methods that are accepted.
#[must_use]
pub fn method_not_allowed(methods: &'static str) -> HttpResponse {
    let detail = format!("This address accepts {methods}.");
    let mut response = problem(&Problem::plain(ProblemKind::MethodNotAllowed, detail));
    response.headers_mut().insert(header::ALLOW, header::HeaderValue::from_static(methods));
    response
}

/// Answers GET and HEAD, and refuses any other method.
pub(crate) fn reading(
    request: &HttpRequest,
    answer: impl FnOnce() -> HttpResponse,
) -> HttpResponse {
    const METHODS: &str = "GET, HEAD, OPTIONS";
    match *request.method() {
        Method::GET | Method::HEAD => answer(),
        Method::OPTIONS => allow(METHODS),
        _ => method_not_allowed(METHODS),
    }
}

/// An error in the service names the request, so that it can be found in the log.
pub(crate) fn named(request: &HttpRequest, mut problem: Problem) -> Problem {
    if problem.kind() == Some(ProblemKind::Internal) {
        let id = RequestId::of(request);
        tracing::error!(id, detail = problem.detail, "the service failed");
        problem.detail =
            format!("The service failed on this request. Please report it with its id, {id}.");
    }
    problem
}
