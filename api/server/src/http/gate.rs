//! The gate that every request passes: [`observe`] records the request and its outcome in
//! the log, the metrics and the trace, and [`let_out`] holds back a response whose request
//! passed no door. The [door](super::door) of the requested address decides whether a
//! request may go in.
//!
//! **One gate.** Id, trace, metrics and log are one function around every request, because they need each
//! other's data, and a stack of layers would cost more per request than the work itself.

use super::door::{Address, Arrival, no_door};
use super::{cell, packing, person};
use crate::observability::metrics::RequestOutcome;
use crate::observability::trace::{RequestEnd, RequestId, TracePlace};
use crate::shared::Shared;
use actix_http::ConnectionType;
use actix_web::body::MessageBody;
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{
    HeaderMap, HeaderName, HeaderValue, STRICT_TRANSPORT_SECURITY, X_CONTENT_TYPE_OPTIONS,
};
use actix_web::http::{Method, StatusCode};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage, web};
use std::sync::Arc;
use std::time::{Duration, Instant};
use sumpwright_openapi::problem::ProblemKind;

/// Lets a response out if its request passed a door, and closes the connection
/// after it once the service is about to stop. Over TLS it tells browsers to come by TLS only from then on.
pub async fn let_out<B: MessageBody + 'static>(
    shared: web::Data<Shared>,
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<impl MessageBody + use<B>>, Error> {
    let _under_way = shared.under_way();
    let response = next.call(request).await?;
    let mut response = match Arrival::of(response.request()) {
        Some(_) if cell::sees(&response) => cell::text(response).map_into_right_body(),
        Some(_) if person::sees(&response) => person::page(response).map_into_right_body(),
        Some(_) => response.map_into_left_body(),
        None => response.into_response(no_door()).map_into_right_body(),
    };
    response.headers_mut().insert(X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
    if shared.tls.is_some() {
        let a_year = HeaderValue::from_static("max-age=31536000");
        response.headers_mut().insert(STRICT_TRANSPORT_SECURITY, a_year);
    }
    let mut response = packing::pack(response);
    if shared.is_stopping() {
        response.response_mut().head_mut().set_connection_type(ConnectionType::Close);
    }
    Ok(response)
}

/// Observes a request: gives it an id and a place in a trace, for the caller, the log, the
/// metrics and the collector of spans.
pub async fn observe<B: MessageBody + 'static>(
    shared: web::Data<Shared>,
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<B>, Error> {
    let began = Instant::now();
    let (method, path) = (request.method().clone(), request.path().to_owned());
    let caller_place = TracePlace::of_caller(request.headers());
    let state = request.headers().get("tracestate").and_then(|state| state.to_str().ok());
    let span = shared.spans.begin(method.as_str(), caller_place, state);
    let id = RequestId::new(request.headers(), &span.place);
    request.extensions_mut().insert(id.clone());

    let mut response = next.call(request).await?;

    let (address, caller) = match Arrival::of(response.request()) {
        Some(Arrival { address, caller, .. }) => (address, caller),
        None => (Address::Guarded, None),
    };
    let (outcome, took) = (outcome(&response), began.elapsed());
    if !address.is_probe() {
        shared.metrics.count(address.calculation(), outcome, took, caller.as_deref());
    }
    let (place, status) = (span.place, response.status().as_u16());
    let route = response.request().match_pattern();
    LogLine {
        id: &id,
        place,
        caller: caller.clone(),
        method: &method,
        path: &path,
        address,
        status,
        outcome,
        took,
    }
    .write();
    span.end(&RequestEnd {
        method: method.as_str(),
        path: &path,
        route: route.as_deref(),
        calculation: address.calculation(),
        caller: caller.as_deref(),
        id: id.as_str(),
        status,
        outcome: outcome.word(),
    });
    name(response.headers_mut(), &id, place);
    Ok(response)
}

/// The content of one log line. It never contains the document, nor the query, which
/// may contain a document.
struct LogLine<'a> {
    id: &'a RequestId,
    place: TracePlace,
    caller: Option<Arc<str>>,
    method: &'a Method,
    path: &'a str,
    address: Address,
    status: u16,
    outcome: RequestOutcome,
    took: Duration,
}

impl LogLine<'_> {
    fn write(&self) {
        macro_rules! line {
            ($level:ident) => {
                tracing::$level!(
                    target: "sumpwright::request",
                    id = self.id.as_str(),
                    trace = format_args!("{:032x}", self.place.trace),
                    caller = self.caller.as_deref(),
                    method = self.method.as_str(),
                    path = self.path,
                    calculation = self.address.calculation(),
                    status = self.status,
                    outcome = self.outcome.word(),
                    milliseconds = self.took.as_secs_f64() * 1e3,
                )
            };
        }
        if self.address.is_probe() { line!(debug) } else { line!(info) }
    }
}

fn outcome<B>(response: &ServiceResponse<B>) -> RequestOutcome {
    let said = response.response().extensions().get::<RequestOutcome>().copied();
    said.unwrap_or_else(|| match response.status() {
        StatusCode::INTERNAL_SERVER_ERROR => RequestOutcome::Problem(ProblemKind::Internal),
        _ => RequestOutcome::Answered,
    })
}

/// Tells the caller the id of the request.
fn name(headers: &mut HeaderMap, id: &RequestId, place: TracePlace) {
    let mut insert = |name: &'static str, value: &str| {
        if let Ok(value) = HeaderValue::from_str(value) {
            headers.insert(HeaderName::from_static(name), value);
        }
    };
    insert("x-request-id", id.as_str());
    insert("traceparent", &place.to_string());
}
