//! The one handler that serves every calculation, by POST and by GET.

use crate::options::{Format, Options};
use crate::respond::{self, allow};
use crate::sheet;
use actix_web::error::PayloadError;
use actix_web::http::{Method, header};
use actix_web::{HttpRequest, HttpResponse, web};
use std::borrow::Cow;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::{Service, Services};
use sumpwright_openapi::steps::steps_of;

const METHODS: &str = "GET, HEAD, OPTIONS, POST";

/// Gives every calculation an address: one of its own for each that there is,
/// which is found faster than by a pattern, and the pattern for what is misspelt.
pub fn configure(config: &mut web::ServiceConfig, services: &Services) {
    for service in services.iter() {
        let address = format!("/v1/{}", service.name);
        config.service(web::resource(address).to(calculation));
    }
    config.service(web::resource("/v1/{calculation}").to(calculation));
}

/// Answers a question put to `/v1/{calculation}`.
pub async fn calculation(
    request: HttpRequest,
    services: web::Data<Services>,
    body: Result<web::Bytes, actix_web::Error>,
) -> HttpResponse {
    let name = request.path().rsplit('/').next().unwrap_or_default();
    let Some(service) = services.get(name) else {
        return respond::problem(&services.unknown(name));
    };
    match *request.method() {
        Method::POST => post(&request, service, services.clone(), body).await,
        Method::GET | Method::HEAD => get(&request, service, services.clone()).await,
        Method::OPTIONS => allow(METHODS),
        _ => respond::method_not_allowed(METHODS),
    }
}

async fn post(
    request: &HttpRequest,
    service: &Service,
    services: web::Data<Services>,
    body: Result<web::Bytes, actix_web::Error>,
) -> HttpResponse {
    let format = accepted(request, service);
    let read = check_format(request).and(format.clone()).and(body.map_err(|error| unread(&error)));
    let answered = match read {
        Err(problem) => Err(problem),
        Ok(body) if Service::takes_long(&body) => {
            apart(services, service.name, move |service| service.answer(&body)).await
        }
        Ok(body) => service.answer(&body),
    };
    tracing::debug!(calculation = service.name, answered = answered.is_ok(), "post");
    match answered {
        Ok(record) if format == Ok(Format::Page) => {
            let record = serde_json::from_slice(&record).unwrap_or_default();
            sheet::page(service, &record)
        }
        Ok(record) => respond::json(record),
        Err(problem) => respond::problem(&problem),
    }
}

/// Answers on a thread of its own, so that others do not wait behind it.
async fn apart<Answer: Send + 'static>(
    services: web::Data<Services>,
    name: &'static str,
    answer: impl FnOnce(&Service) -> Result<Answer, Problem> + Send + 'static,
) -> Result<Answer, Problem> {
    let answer = move || match services.get(name) {
        Some(service) => answer(service),
        None => Err(services.unknown(name)),
    };
    web::block(answer).await.unwrap_or_else(|_| {
        let detail = "The service is shutting down or out of threads.";
        Err(Problem::plain(ProblemKind::Internal, detail))
    })
}

/// The format of the answer to a document: JSON, or the job sheet where there is
/// one and it is asked for.
fn accepted(request: &HttpRequest, service: &Service) -> Result<Format, Problem> {
    let offered = [Format::Json, Format::Page];
    let offered = if steps_of(&service.record).is_some() { &offered } else { &offered[..1] };
    Format::accepted(request, offered).ok_or_else(|| respond::not_acceptable(offered))
}

/// Refuses what the document would have to be and is not.
fn check_format(request: &HttpRequest) -> Result<(), Problem> {
    let encoded = request.headers().get(header::CONTENT_ENCODING);
    let encoded = encoded.is_some_and(|encoding| encoding.as_bytes() != b"identity");
    if encoded || !is_json(request.headers().get(header::CONTENT_TYPE)) {
        let detail = "Send the document as application/json, in UTF-8 and without content \
                      encoding.";
        return Err(Problem::plain(ProblemKind::UnsupportedMediaType, detail));
    }
    Ok(())
}

/// A document without a type is taken for JSON.
fn is_json(content_type: Option<&header::HeaderValue>) -> bool {
    let Some(content_type) = content_type else { return true };
    let mut parts = content_type.to_str().unwrap_or_default().split(';').map(str::trim);
    let essence = parts.next().unwrap_or_default();
    let utf_8 = parts.all(|parameter| {
        let Some((name, value)) = parameter.split_once('=') else { return true };
        !name.eq_ignore_ascii_case("charset")
            || value.trim_matches('"').eq_ignore_ascii_case("utf-8")
    });
    utf_8
        && (essence.eq_ignore_ascii_case("application/json")
            || essence.to_ascii_lowercase().ends_with("+json"))
}

fn unread(error: &actix_web::Error) -> Problem {
    if let Some(PayloadError::Overflow) = error.as_error::<PayloadError>() {
        let detail = "The document is longer than 8 MiB, the most that one may be. Send less, or \
                      several documents.";
        return Problem::plain(ProblemKind::TooLarge, detail);
    }
    Problem::plain(ProblemKind::Malformed, "The document did not arrive whole. Send it again.")
}

async fn get(
    request: &HttpRequest,
    service: &Service,
    services: web::Data<Services>,
) -> HttpResponse {
    let pairs: Vec<(Cow<'_, str>, Cow<'_, str>)> =
        form_urlencoded::parse(request.query_string().as_bytes()).collect();
    let (options, question) = match Options::take(request, service, &pairs) {
        Ok(taken) => taken,
        Err(problem) => return respond::problem(&problem),
    };
    let answered = if question.iter().any(|(path, _)| Service::path_takes_long(path)) {
        let owned = question.into_iter().map(|(path, text)| (path.to_owned(), text.to_owned()));
        let question: Vec<(String, String)> = owned.collect();
        let answer = move |service: &Service| {
            service.answer_flat(question.iter().map(|(path, text)| (path.as_str(), text.as_str())))
        };
        apart(services, service.name, answer).await
    } else {
        service.answer_flat(question)
    };
    let answered = answered.and_then(|record| respond::shown(record, service, &options));
    tracing::debug!(calculation = service.name, answered = answered.is_ok(), "get");
    match answered {
        Ok(response) => response,
        Err(problem) if options.problems_as_text => respond::problem_as_text(&problem),
        Err(problem) => respond::problem(&problem),
    }
}
