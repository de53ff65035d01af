//! The addresses for a supervisor: alive, ready and metrics.

use super::metrics;
use crate::http::door::{Address, at};
use crate::http::format::Format;
use crate::http::respond::{self, reading};
use crate::shared::Shared;
use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse, web};
use sumpwright_openapi::problem::{Problem, ProblemKind};

/// Registers their addresses.
pub fn configure(config: &mut web::ServiceConfig) {
    config
        .service(at("/livez", Address::Probe).to(alive))
        .service(at("/readyz", Address::Probe).to(ready))
        .service(at("/metrics", Address::Metrics).to(counts));
}

/// Answers as long as the process runs.
async fn alive(request: HttpRequest) -> HttpResponse {
    reading(&request, || respond::written(Format::Text, b"alive".to_vec()))
}

/// Says whether to send requests to this instance.
async fn ready(request: HttpRequest, shared: web::Data<Shared>) -> HttpResponse {
    reading(&request, || {
        if shared.is_stopping() {
            let stopping = ProblemKind::Stopping;
            return respond::problem(&Problem::plain(stopping, stopping.row().page));
        }
        respond::written(Format::Text, b"ready".to_vec())
    })
}

async fn counts(request: HttpRequest, shared: web::Data<Shared>) -> HttpResponse {
    reading(&request, || {
        let accepted = request.headers().get(header::ACCEPT).and_then(|kinds| kinds.to_str().ok());
        let open = accepted.is_some_and(|kinds| kinds.contains("application/openmetrics-text"));
        let media_type = if open { metrics::OPEN_METRICS } else { metrics::PLAIN };
        let text = shared.metrics.text(&shared.queue, shared.keys.as_ref(), open);
        HttpResponse::Ok().content_type(media_type).body(text)
    })
}
