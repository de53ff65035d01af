//! The list of calculations, the OpenAPI document, and the pages for people.

use crate::door::{Place, at, through};
use crate::options::Format;
use crate::respond::{self, allow};
use crate::shared::Shared;
use actix_web::body::BoxBody;
use actix_web::dev::ServiceRequest;
use actix_web::http::{Method, header};
use actix_web::middleware::{Next, from_fn};
use actix_web::{HttpRequest, HttpResponse, Responder, web};
use maud::html;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Services;
use utoipa_swagger_ui::{Config, SwaggerUi};

const METHODS: &str = "GET, HEAD, OPTIONS";
const METHODS_OF_THE_PAGE: &str = "GET, OPTIONS";

/// Adds everything but the calculations.
pub fn configure(config: &mut web::ServiceConfig) {
    // The badge that would have a server elsewhere look at the document is off:
    // nothing here reaches beyond this machine.
    let documents = Config::new(["/openapi.json"]).validator_url("none").use_base_layout();
    let door = |shared: web::Data<Shared>, request: ServiceRequest, next: Next<BoxBody>| {
        through(Place::Documentation, shared, request, next)
    };
    let page = web::scope("/docs").wrap(from_fn(door));
    let page = page.service(SwaggerUi::new("/{_:.*}").config(documents));
    config
        .service(at("/v1", Place::Guarded).to(index))
        .service(at("/v1/{calculation}/example", Place::Guarded).to(example))
        .service(at("/openapi.json", Place::Open).to(openapi))
        .service(at("/problems/{problem}", Place::Open).to(problem))
        .service(at("/docs", Place::Open).to(documentation))
        .service(page.default_service(web::to(not_of_the_page)));
}

/// Sends a reader on to the documentation page.
async fn documentation(request: HttpRequest) -> HttpResponse {
    let page = (header::LOCATION, "/docs/");
    reading(&request, || HttpResponse::TemporaryRedirect().insert_header(page).finish())
}

/// The documentation page's files are there for GET alone.
async fn not_of_the_page(request: HttpRequest) -> HttpResponse {
    match *request.method() {
        Method::OPTIONS => allow(METHODS_OF_THE_PAGE),
        _ => respond::method_not_allowed(METHODS_OF_THE_PAGE),
    }
}

/// Nothing is at this address.
pub async fn nothing_here(request: HttpRequest) -> HttpResponse {
    respond::nothing_at(request.path())
}

async fn index(request: HttpRequest, services: web::Data<Services>) -> HttpResponse {
    reading(&request, || HttpResponse::Ok().json(services.index()))
}

async fn openapi(request: HttpRequest, services: web::Data<Services>) -> HttpResponse {
    reading(&request, || respond::json(services.openapi.clone().into_bytes()))
}

async fn example(request: HttpRequest, services: web::Data<Services>) -> HttpResponse {
    let name = request.match_info().query("calculation");
    reading(&request, || match services.get(name) {
        Some(service) => respond::json(service.example.as_bytes().to_vec()),
        None => respond::problem(&services.unknown(name)),
    })
}

async fn problem(request: HttpRequest) -> impl Responder {
    let slug = request.match_info().query("problem");
    let known = ProblemKind::ALL.iter().find(|kind| kind.row().slug == slug);
    reading(&request, || {
        let unknown = || {
            let detail = format!("There is no type of problem called {slug:?}.");
            respond::problem(&Problem::plain(ProblemKind::NotFound, detail))
        };
        known.copied().map_or_else(unknown, page)
    })
}

/// Answers GET and HEAD, and says so to any other method.
pub(crate) fn reading(
    request: &HttpRequest,
    answer: impl FnOnce() -> HttpResponse,
) -> HttpResponse {
    match *request.method() {
        Method::GET | Method::HEAD => answer(),
        Method::OPTIONS => allow(METHODS),
        _ => respond::method_not_allowed(METHODS),
    }
}

fn page(kind: ProblemKind) -> HttpResponse {
    let row = kind.row();
    let body = html! {
        h1 { (row.title) }
        p { "Status " (row.status) ", type " code { (kind.address()) } }
        p { (row.page) }
        p {
            "What there is: " a href="/v1" { "/v1" } ". To try it out: "
            a href="/docs/" { "/docs" } "."
        }
    };
    respond::written(Format::Page, respond::page(row.title, STYLE, &body).into_bytes())
}

const STYLE: &str =
    "body { font: 1.1rem/1.5 sans-serif; max-width: 40rem; margin: 3rem auto; padding: 0 1rem }";
