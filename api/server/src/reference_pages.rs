//! The list of calculations, the OpenAPI document, and the pages for people.
//!
//! **The documentation page** at `/docs/` is a vendored one, built in; nothing is fetched at build or at
//! run time.

use crate::http::door::{Address, admit, at};
use crate::http::html::shell;
use crate::http::respond::{self, allow, reading};
use crate::shared::Shared;
use actix_web::body::BoxBody;
use actix_web::dev::ServiceRequest;
use actix_web::http::{Method, header};
use actix_web::middleware::{DefaultHeaders, Next, from_fn};
use actix_web::{HttpRequest, HttpResponse, Responder, web};
use maud::html;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Services;
use utoipa_swagger_ui::{Config, SwaggerUi};

/// What the documentation page may do in a browser: its assets set styles in place
/// and bring images along in their own text.
const DOCUMENTATION: &str = "default-src 'self'; style-src 'self' 'unsafe-inline'; \
                             img-src 'self' data:; form-action 'none'; base-uri 'none'; \
                             frame-ancestors 'none'";
const METHODS_OF_DOCUMENTATION: &str = "GET, OPTIONS";

/// Adds everything but the calculations.
pub fn configure(config: &mut web::ServiceConfig) {
    // The badge that would have a server elsewhere look at the document is off:
    // nothing here reaches beyond this machine.
    let documents = Config::new(["/openapi.json"]).validator_url("none").use_base_layout();
    let door = |shared: web::Data<Shared>, request: ServiceRequest, next: Next<BoxBody>| {
        admit(Address::Open, shared, request, next)
    };
    let policy = DefaultHeaders::new().add((header::CONTENT_SECURITY_POLICY, DOCUMENTATION));
    let page = web::scope("/docs").wrap(policy).wrap(from_fn(door));
    let page = page.service(SwaggerUi::new("/{_:.*}").config(documents));
    config
        .service(at("/v1", Address::Guarded).to(index))
        .service(at("/v1/{calculation}/example", Address::Guarded).to(example))
        .service(at("/openapi.json", Address::Open).to(openapi))
        .service(at("/problems/{problem}", Address::Open).to(problem))
        .service(at("/docs", Address::Open).to(documentation))
        .service(page.default_service(web::to(not_of_documentation)));
}

/// Sends a reader on to the documentation page.
async fn documentation(request: HttpRequest) -> HttpResponse {
    let page = (header::LOCATION, "/docs/");
    reading(&request, || HttpResponse::TemporaryRedirect().insert_header(page).finish())
}

/// The documentation page's files are there for GET alone.
async fn not_of_documentation(request: HttpRequest) -> HttpResponse {
    match *request.method() {
        Method::OPTIONS => allow(METHODS_OF_DOCUMENTATION),
        _ => respond::method_not_allowed(METHODS_OF_DOCUMENTATION),
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
        known.copied().map_or_else(unknown, problem_page)
    })
}

fn problem_page(kind: ProblemKind) -> HttpResponse {
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
    respond::page(shell(row.title, STYLE, &body))
}

const STYLE: &str =
    "body { font: 1.1rem/1.5 sans-serif; max-width: 40rem; margin: 3rem auto; padding: 0 1rem }";
