//! The list of calculations, the OpenAPI document, and the pages for people.

use crate::options::Format;
use crate::respond::{self, allow};
use actix_web::http::Method;
use actix_web::{HttpRequest, HttpResponse, Responder, web};
use maud::html;
use sumpwright_openapi::index::Index;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Services;
use utoipa_swagger_ui::{Config, SwaggerUi};

const METHODS: &str = "GET, HEAD, OPTIONS";

/// Adds everything but the calculations.
pub fn configure(config: &mut web::ServiceConfig) {
    // The badge that would have a server elsewhere look at the document is off:
    // nothing here reaches beyond this machine.
    let documents = Config::new(["/openapi.json"]).validator_url("none").use_base_layout();
    config
        .service(web::resource("/v1").to(index))
        .service(web::resource("/v1/{calculation}/example").to(example))
        .service(web::resource("/openapi.json").to(openapi))
        .service(web::resource("/problems/{problem}").to(problem))
        .service(web::redirect("/docs", "/docs/"))
        .service(SwaggerUi::new("/docs/{_:.*}").config(documents));
}

/// Nothing is at this address.
pub async fn nothing_here(request: HttpRequest) -> HttpResponse {
    respond::nothing_at(request.path())
}

async fn index(request: HttpRequest, services: web::Data<Services>) -> HttpResponse {
    reading(&request, || HttpResponse::Ok().json(Index::of(&services)))
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
