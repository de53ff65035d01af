//! Tells a cell of a spreadsheet, which never sees the body of an error, why it has no answer.
//!
//! Where the query has `problems=as_text`, every problem goes out with status 200 and its sentence as
//! text, whoever found it: the calculation, the options, the door (no key, too many requests) or the router.

use super::format::Format;
use super::options::AS_TEXT;
use super::respond::written;
use crate::observability::metrics::RequestOutcome;
use actix_web::HttpRequest;
use actix_web::body::MessageBody;
use actix_web::dev::ServiceResponse;
use actix_web::http::header;
use sumpwright_openapi::problem::{MEDIA_TYPE, Problem};

/// Whether a response is a problem that is to be told in text.
pub(super) fn sees<B>(response: &ServiceResponse<B>) -> bool {
    let kind = response.headers().get(header::CONTENT_TYPE);
    response.status().as_u16() >= 400
        && kind.is_some_and(|kind| kind == MEDIA_TYPE)
        && asks_for_text(response.request())
}

fn asks_for_text(request: &HttpRequest) -> bool {
    form_urlencoded::parse(request.query_string().as_bytes())
        .any(|(name, text)| name == "problems" && text.trim() == AS_TEXT)
}

/// The sentences of the problem, with status 200.
pub(super) fn text<B: MessageBody>(response: ServiceResponse<B>) -> ServiceResponse {
    let (request, response) = response.into_parts();
    let outcome = response.extensions().get::<RequestOutcome>().copied();
    let headers = response.headers().clone();
    let bytes = response.into_body().try_into_bytes().unwrap_or_default();
    let told = match serde_json::from_slice::<Problem>(&bytes) {
        Ok(problem) => problem.in_a_cell(),
        Err(_) => "The service has no answer.".to_owned(),
    };
    let mut text = written(Format::Text, told.into_bytes());
    for (name, value) in &headers {
        let is_of_the_problem =
            [header::ALLOW, header::CONTENT_LENGTH, header::CONTENT_TYPE, header::WWW_AUTHENTICATE];
        if !is_of_the_problem.contains(name) {
            text.headers_mut().insert(name.clone(), value.clone());
        }
    }
    if let Some(outcome) = outcome {
        text.extensions_mut().insert(outcome);
    }
    ServiceResponse::new(request, text)
}
