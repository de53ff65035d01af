//! The list of calculations, their examples, the OpenAPI document, and a page for each type of problem.

use crate::http::built_in::BuiltInFile;
use crate::http::door::{Address, at};
use crate::http::html::STILL;
use crate::http::respond::{self, reading};
use actix_web::{HttpRequest, HttpResponse, Responder, web};
use maud::html;
use std::sync::OnceLock;
use sumpwright_openapi::problem::{Problem, ProblemKind};
use sumpwright_openapi::service::Services;
use sumpwright_render::shell;

/// Registers everything except the calculations.
pub fn configure(config: &mut web::ServiceConfig) {
    config
        .service(at("/v1", Address::Guarded).to(index))
        .service(at("/v1/{calculation}/example", Address::Guarded).to(example))
        .service(at("/openapi.json", Address::Open).to(openapi))
        .service(at("/problems/{problem}", Address::Open).to(problem));
}

/// Nothing is at this address.
pub async fn nothing_here(request: HttpRequest) -> HttpResponse {
    respond::nothing_at(request.path())
}

async fn index(request: HttpRequest, services: web::Data<Services>) -> HttpResponse {
    reading(&request, || HttpResponse::Ok().json(services.index()))
}

/// The OpenAPI document as it is sent: packed once, when it is first asked for.
#[derive(Default)]
pub(crate) struct OpenApiFile(OnceLock<BuiltInFile>);

async fn openapi(
    request: HttpRequest,
    services: web::Data<Services>,
    file: web::Data<OpenApiFile>,
) -> HttpResponse {
    let file = file.0.get_or_init(|| {
        let document = services.openapi.clone().into_bytes();
        BuiltInFile::new("/openapi.json", "application/json", document)
    });
    reading(&request, || file.answer(&request, STILL))
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
            a href="/" { "To the page" } ". Calculations: " a href="/v1" { "/v1" } ". Documentation: "
            a href="/docs/" { "/docs" } "."
        }
    };
    respond::page(shell(row.title, STYLE, &body))
}

const STYLE: &str =
    "body { font: 1.1rem/1.5 sans-serif; max-width: 40rem; margin: 3rem auto; padding: 0 1rem }";
