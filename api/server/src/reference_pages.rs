//! The list of calculations, the OpenAPI document, and the pages for people.
//!
//! **The documentation page** at `/docs/` is vendored and built in; nothing is fetched at build time or at
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

/// The policy of the documentation page in a browser: its assets contain inline styles
/// and inline images.
const DOCUMENTATION: &str = "default-src 'self'; style-src 'self' 'unsafe-inline'; \
                             img-src 'self' data:; form-action 'none'; base-uri 'none'; \
                             frame-ancestors 'none'";
const METHODS_OF_DOCUMENTATION: &str = "GET, OPTIONS";

/// Registers everything except the calculations.
pub fn configure(config: &mut web::ServiceConfig) {
    // The badge that would send the document to an external validator is off:
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

/// Redirects to the documentation page.
async fn documentation(request: HttpRequest) -> HttpResponse {
    let page = (header::LOCATION, "/docs/");
    reading(&request, || HttpResponse::TemporaryRedirect().insert_header(page).finish())
}

/// The files of the documentation page accept only GET.
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
            let detail = format!("There is no problem type {slug:?}.");
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
            "Calculations: " a href="/v1" { "/v1" } ". Documentation: "
            a href="/docs/" { "/docs" } "."
        }
    };
    respond::page(shell(row.title, STYLE, &body))
}

const STYLE: &str =
    "body { font: 1.1rem/1.5 sans-serif; max-width: 40rem; margin: 3rem auto; padding: 0 1rem }";
