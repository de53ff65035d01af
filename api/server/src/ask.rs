//! The one handler that serves every calculation, by POST and by GET.

use crate::door::{Place, at};
use crate::options::{Format, Options};
use crate::respond::{self, allow};
use crate::shared::Shared;
use crate::{gate, picture, table};
use actix_web::http::{Method, header};
use actix_web::{HttpRequest, HttpResponse, web};
use std::borrow::Cow;
use std::sync::Arc;
use sumpwright_engine::text::nearest;
use sumpwright_openapi::document::QUERY_OPTIONS;
use sumpwright_openapi::guarded::guarded;
use sumpwright_openapi::problem::{Fault, Problem, ProblemKind};
use sumpwright_openapi::service::{Service, Services};

const METHODS: &str = "GET, HEAD, OPTIONS, POST";

/// Gives every calculation an address: one of its own for each that there is,
/// which is found faster than by a pattern, and the pattern for what is misspelt.
pub fn configure(config: &mut web::ServiceConfig, services: &Services) {
    for service in services.iter() {
        let address = format!("/v1/{}", service.name);
        let place = Place::Calculation(service.name);
        let service = Arc::clone(service);
        let answer =
            move |request: HttpRequest, shared: web::Data<Shared>, payload: web::Payload| {
                calculation(Arc::clone(&service), request, shared, payload)
            };
        config.service(at(&address, place).to(answer));
    }
    config.service(at("/v1/{calculation}", Place::Guarded).to(unknown));
}

async fn unknown(request: HttpRequest, services: web::Data<Services>) -> HttpResponse {
    respond::problem(&services.unknown(request.match_info().query("calculation")))
}

/// Answers a question put to `/v1/{calculation}`.
async fn calculation(
    service: Arc<Service>,
    request: HttpRequest,
    shared: web::Data<Shared>,
    payload: web::Payload,
) -> HttpResponse {
    match *request.method() {
        Method::POST if table::is_table(request.headers().get(header::CONTENT_TYPE)) => {
            table::post(&request, shared, service, payload).await
        }
        Method::POST => {
            let body = shared.receiving.document(&request, payload).await;
            post(&request, &shared, &service, body).await
        }
        Method::GET | Method::HEAD => get(&request, &shared, &service).await,
        Method::OPTIONS => allow(METHODS),
        _ => respond::method_not_allowed(METHODS),
    }
}

async fn post(
    request: &HttpRequest,
    shared: &Shared,
    service: &Arc<Service>,
    body: Result<web::Bytes, Problem>,
) -> HttpResponse {
    let options = match options_alone(request, service) {
        Ok(options) => options,
        Err(problem) => return respond::problem(&problem),
    };
    let read = check_format(request).and(body);
    let answered = match read {
        Err(problem) => Err(problem),
        Ok(body) if service.takes_long(&body) => {
            let (service, options) = (Arc::clone(service), options.clone());
            shared.queue.answer(move || answer(&service, &body, &options)).await
        }
        Ok(body) => answer(service, &body, &options),
    };
    respond_to(request, &options, answered)
}

/// What the query of a POST says: the document is in the body, and a member of it in
/// the query is refused as a member that nobody knows is.
fn options_alone(request: &HttpRequest, service: &Service) -> Result<Options, Problem> {
    let pairs: Vec<(Cow<'_, str>, Cow<'_, str>)> =
        form_urlencoded::parse(request.query_string().as_bytes()).collect();
    let (options, question) = Options::take(request, service, &pairs)?;
    let Some((name, _)) = question.first() else { return Ok(options) };
    let mend = if service.question.has_path(name) {
        "A POST has its question in the document: say it there.".to_owned()
    } else if let Some(near) = nearest(name, QUERY_OPTIONS) {
        format!("Did you mean {near:?}?")
    } else {
        format!("The query of a POST can have {}.", QUERY_OPTIONS.join(", "))
    };
    let detail = format!("The query has {name:?}, which is no option of an answer. {mend}");
    Err(Problem::new(ProblemKind::Malformed, Fault::new("", detail)))
}

fn respond_to(
    request: &HttpRequest,
    options: &Options,
    answered: Result<Vec<u8>, Problem>,
) -> HttpResponse {
    match answered.map_err(|problem| of_request(request, problem)) {
        Ok(body) => respond::written(options.format, body),
        Err(problem) if options.problems_as_text => respond::problem_as_text(&problem),
        Err(problem) => respond::problem(&problem),
    }
}

/// A failure of the service's own names the request, so that it can be looked up.
pub(crate) fn of_request(request: &HttpRequest, mut problem: Problem) -> Problem {
    if problem.kind() == Some(ProblemKind::Internal) {
        let id = gate::id_of(request);
        tracing::error!(id, detail = problem.detail, "the service failed");
        problem.detail =
            format!("The service failed at this request. Please report it with its id, {id}.");
    }
    problem
}

/// The answer to a document, as the query asked to be shown it.
fn answer(service: &Service, body: &[u8], options: &Options) -> Result<Vec<u8>, Problem> {
    guarded(|| match options.format {
        Format::Picture => Ok(picture::svg(&service.picture(body)?).into_bytes()),
        Format::Json if options.pick.is_none() && options.digits.is_none() => service.answer(body),
        _ => {
            let record = serde_json::from_slice(&service.answer(body)?).unwrap_or_default();
            respond::shown(record, service, options)
        }
    })
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

async fn get(request: &HttpRequest, shared: &Shared, service: &Arc<Service>) -> HttpResponse {
    let pairs: Vec<(Cow<'_, str>, Cow<'_, str>)> =
        form_urlencoded::parse(request.query_string().as_bytes()).collect();
    let (options, question) = match Options::take(request, service, &pairs) {
        Ok(taken) => taken,
        Err(problem) => return respond::problem(&problem),
    };
    let answered = if service.paths_take_long(question.iter().map(|(path, _)| *path)) {
        let owned = question.into_iter().map(|(path, text)| (path.to_owned(), text.to_owned()));
        let (question, options) = (owned.collect::<Vec<(String, String)>>(), options.clone());
        let service = Arc::clone(service);
        let work = move || {
            let pairs = question.iter().map(|(path, text)| (path.as_str(), text.as_str()));
            shown(&service, pairs, &options)
        };
        shared.queue.answer(work).await
    } else {
        shown(service, question, &options)
    };
    respond_to(request, &options, answered)
}

/// The answer to a query, as it asked to be shown it.
pub(crate) fn shown<'a>(
    service: &Service,
    question: impl IntoIterator<Item = (&'a str, &'a str)>,
    options: &Options,
) -> Result<Vec<u8>, Problem> {
    guarded(|| match options.format {
        Format::Picture => Ok(picture::svg(&service.picture_flat(question)?).into_bytes()),
        _ => respond::shown(service.answer_flat(question)?, service, options),
    })
}
