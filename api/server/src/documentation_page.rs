//! The documentation page at `/docs/`: what may be asked, drawn in a browser from the OpenAPI document.
//!
//! # Decisions
//!
//! - **The viewer is a vendored one, built in**; nothing is fetched at build or at run time. What starts it is
//!   our own (`docs/`): it shows the viewer only as much of the document at a time as is looked at, so that
//!   the first line stands there within two seconds.

use crate::http::door::{Address, at};
use crate::http::respond::{self, reading};
use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse, web};
use std::sync::Arc;
use utoipa_swagger_ui::{Config, serve};

/// What the page may do in a browser: the viewer sets styles in place and brings images
/// along in its own text.
const POLICY: &str = "default-src 'self'; style-src 'self' 'unsafe-inline'; \
                      img-src 'self' data:; form-action 'none'; base-uri 'none'; \
                      frame-ancestors 'none'";

const PAGE: &str = include_str!("../docs/index.html");

const START: &str = include_str!("../docs/start.js");

/// The files of the viewer that the page names.
const VIEWER: [&str; 2] = ["/docs/swagger-ui.css", "/docs/swagger-ui-bundle.js"];

/// Gives the page and its files their addresses.
pub fn configure(config: &mut web::ServiceConfig) {
    config
        .service(at("/docs", Address::Open).to(to_the_page))
        .service(at("/docs/", Address::Open).to(page))
        .service(at("/docs/start.js", Address::Open).to(start));
    for address in VIEWER {
        config.service(at(address, Address::Open).to(viewer));
    }
}

async fn to_the_page(request: HttpRequest) -> HttpResponse {
    let page = (header::LOCATION, "/docs/");
    reading(&request, || HttpResponse::TemporaryRedirect().insert_header(page).finish())
}

async fn page(request: HttpRequest) -> HttpResponse {
    reading(&request, || file("text/html; charset=utf-8", PAGE.into()))
}

async fn start(request: HttpRequest) -> HttpResponse {
    reading(&request, || file("text/javascript; charset=utf-8", START.into()))
}

async fn viewer(request: HttpRequest) -> HttpResponse {
    let address = request.match_pattern().unwrap_or_default();
    let name = address.trim_start_matches("/docs/");
    let found = serve(name, Arc::new(Config::from("/openapi.json")));
    reading(&request, || match found {
        Ok(Some(asset)) => file(&asset.content_type, asset.bytes.into_owned()),
        _ => respond::nothing_at(request.path()),
    })
}

fn file(media_type: &str, bytes: Vec<u8>) -> HttpResponse {
    HttpResponse::Ok()
        .insert_header((header::CONTENT_SECURITY_POLICY, POLICY))
        .content_type(media_type)
        .body(bytes)
}
