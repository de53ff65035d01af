//! The one handler that serves every calculation, by POST and by GET.

use crate::documents;
use crate::filing;
use crate::http::door::{Address, Arrival, at};
use crate::http::format::{is_encoded, is_json, is_lines, is_table};
use crate::http::options::AnswerOptions;
use crate::http::respond::{self, Handled, allow, named};
use crate::http::{query, render};
use crate::load::receive::Received;
use crate::shared::Shared;
use crate::table;
use actix_web::http::Method;
use actix_web::{HttpRequest, web};
use std::borrow::Cow;
use std::sync::Arc;
use sumpwright_engine::text::did_you_mean;
use sumpwright_openapi::document::QUERY_OPTIONS;
use sumpwright_openapi::problem::{FaultCode, Problem, ProblemKind};
use sumpwright_openapi::service::{Service, Services};
use sumpwright_openapi::work::Work;

const METHODS: &str = "GET, HEAD, OPTIONS, POST";

/// Registers the address of every calculation: a fixed one for each, which is found
/// faster than a pattern, and a pattern for misspelt names.
pub fn configure(config: &mut web::ServiceConfig, services: &Services) {
    for service in services.iter() {
        let path = format!("/v1/{}", service.name);
        let address = Address::Calculation(service.name);
        let service = Arc::clone(service);
        let answer =
            move |request: HttpRequest, shared: web::Data<Shared>, payload: web::Payload| {
                calculation(Arc::clone(&service), request, shared, payload)
            };
        config.service(at(&path, address).to(answer));
    }
    config.service(at("/v1/{calculation}", Address::Guarded).to(unknown));
}

async fn unknown(request: HttpRequest, services: web::Data<Services>) -> Handled {
    Err(services.unknown(request.match_info().query("calculation")).into())
}

/// Answers a question put to `/v1/{calculation}`.
async fn calculation(
    service: Arc<Service>,
    request: HttpRequest,
    shared: web::Data<Shared>,
    payload: web::Payload,
) -> Handled {
    match *request.method() {
        Method::POST if is_table(request.headers()) => {
            let answered = table::post(&request, shared, service, payload).await;
            Ok(answered.map_err(|problem| named(&request, problem))?)
        }
        Method::POST if is_lines(request.headers()) => {
            let answered = documents::post(&request, shared, service, payload).await;
            Ok(answered.map_err(|problem| named(&request, problem))?)
        }
        Method::POST => {
            let body =
                shared.receiving.document(Arrival::counted(&request), &request, payload).await;
            post(&request, &shared, &service, body).await
        }
        Method::GET | Method::HEAD => get(&request, &shared, &service).await,
        Method::OPTIONS => Ok(allow(METHODS)),
        _ => Ok(respond::method_not_allowed(METHODS)),
    }
}

async fn post(
    request: &HttpRequest,
    shared: &Shared,
    service: &Arc<Service>,
    body: Result<Received, Problem>,
) -> Handled {
    let options = options_alone(request, service)?;
    let answered = match check_type(request).and(body) {
        Err(problem) => Err(problem),
        Ok(body) => match service.work(&body) {
            Work::Quick => render::of_document(service, &body, &options),
            how_much => {
                let (service, options) = (Arc::clone(service), options.clone());
                let caller = Arrival::counted(request);
                let work = move || render::of_document(&service, &body, &options);
                shared.queue.answer(&caller, how_much, work).await
            }
        },
    };
    respond_to(request, &options, answered)
}

/// The options in the query of a POST: the document is in the body, and members of it in
/// the query are refused like unknown members.
fn options_alone(request: &HttpRequest, service: &Service) -> Result<AnswerOptions, Problem> {
    let pairs = pairs(request)?;
    let (options, question) = AnswerOptions::take(request, service, &pairs)?;
    let Some((name, _)) = question.first() else { return Ok(options) };
    let remedy = if service.question.has_path(name) {
        "The question of a POST is in the document: put the member there.".to_owned()
    } else {
        did_you_mean(name, QUERY_OPTIONS).unwrap_or_else(|| {
            format!("The query of a POST can contain {}.", QUERY_OPTIONS.join(", "))
        })
    };
    let detail = format!("The query has {name:?}, which is not an option of an answer. {remedy}");
    Err(Problem::of_whole(FaultCode::UnknownMember, detail))
}

/// A name and its text.
type Pair<'a> = (Cow<'a, str>, Cow<'a, str>);

/// The names and texts of a query.
fn pairs(request: &HttpRequest) -> Result<Vec<Pair<'_>>, Problem> {
    query::check(request.query_string())?;
    Ok(form_urlencoded::parse(request.query_string().as_bytes()).collect())
}

fn respond_to(
    request: &HttpRequest,
    options: &AnswerOptions,
    answered: Result<Vec<u8>, Problem>,
) -> Handled {
    match answered.map_err(|problem| named(request, problem)) {
        Ok(body) => {
            let digest = wants_a_digest(request, options).then(|| filing::digest_of(&body));
            let response = respond::written(options.format, body);
            let response = respond::with_digest(response, digest.as_deref());
            Ok(respond::saying_the_extent(response, options.extent))
        }
        Err(problem) => Err(problem.into()),
    }
}

/// Whether the bytes of an answer are to be told by their digest (RFC 9530, section 4).
fn wants_a_digest(request: &HttpRequest, options: &AnswerOptions) -> bool {
    let wanted = request.headers().get("want-content-digest").and_then(|said| said.to_str().ok());
    let wanted = wanted.unwrap_or_default().split(',').any(|algorithm| {
        let (name, weight) = algorithm.split_once('=').unwrap_or((algorithm, ""));
        name.trim().eq_ignore_ascii_case("sha-256") && weight.trim() != "0"
    });
    wanted || options.besides.digests
}

/// Refuses a body whose type is not that of a document.
fn check_type(request: &HttpRequest) -> Result<(), Problem> {
    if is_encoded(request.headers()) || !is_json(request.headers()) {
        let detail = "Send the document as application/json, in UTF-8 and without content \
                      encoding. Many documents are sent as application/x-ndjson, one per line, and \
                      a table as text/csv.";
        return Err(Problem::plain(ProblemKind::UnsupportedMediaType, detail));
    }
    Ok(())
}

async fn get(request: &HttpRequest, shared: &Shared, service: &Arc<Service>) -> Handled {
    let pairs = pairs(request)?;
    let (options, question) = AnswerOptions::take(request, service, &pairs)?;
    let how_much = service.work_of_members(question.iter().copied());
    let answered = if how_much == Work::Quick {
        render::of_members(service, question, &options)
    } else {
        let owned = question.into_iter().map(|(path, text)| (path.to_owned(), text.to_owned()));
        let (question, options) = (owned.collect::<Vec<(String, String)>>(), options.clone());
        let service = Arc::clone(service);
        let work = move || {
            let members = question.iter().map(|(path, text)| (path.as_str(), text.as_str()));
            render::of_members(&service, members, &options)
        };
        shared.queue.answer(&Arrival::counted(request), how_much, work).await
    };
    respond_to(request, &options, answered)
}
