//! The gate that every request passes: as part of what it asks, and what became of
//! it. Whether it may go in is for the door of the address that it came to.

use crate::door::{Place, Seen, no_door};
use crate::metrics::Outcome;
use crate::rates::Standing;
use crate::shared::Shared;
use crate::trace::{Trace, request_id};
use actix_http::ConnectionType;
use actix_web::body::{EitherBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use actix_web::http::{Method, StatusCode};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage, HttpRequest, web};
use std::sync::Arc;
use std::time::{Duration, Instant};
use sumpwright_openapi::problem::ProblemKind;

/// The name of a request, in the log and to the caller.
#[derive(Debug, Clone)]
pub struct RequestId(Arc<str>);

/// What the documentation page may do in a browser: its assets set styles in place
/// and bring pictures along in their own text.
const DOCUMENTATION: HeaderValue = HeaderValue::from_static(
    "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; \
     form-action 'none'; base-uri 'none'; frame-ancestors 'none'",
);

/// The name of a request that has passed the gate.
pub(crate) fn id_of(request: &HttpRequest) -> String {
    request.extensions().get::<RequestId>().map(|id| id.0.to_string()).unwrap_or_default()
}

/// Sends a request on to its door, and tells the log, the metrics and the caller.
pub async fn gate<B: MessageBody + 'static>(
    shared: web::Data<Shared>,
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<EitherBody<B>>, Error> {
    let began = Instant::now();
    let _under_way = shared.under_way();
    let caller_place = Trace::of_caller(request.headers());
    #[cfg(feature = "otlp")]
    let span = shared
        .spans
        .as_ref()
        .map(|spans| spans.begin(format!("{} {}", request.method(), request.path()), caller_place));
    #[cfg(feature = "otlp")]
    let in_trace = span.as_ref().map(crate::spans::place);
    #[cfg(not(feature = "otlp"))]
    let in_trace = None;
    let trace = in_trace.unwrap_or_else(|| Trace::below(caller_place));
    let id = request_id(request.headers(), &trace);
    request.extensions_mut().insert(RequestId(id.as_str().into()));

    let (method, path) = (request.method().clone(), request.path().to_owned());
    let response = next.call(request).await?;
    let seen = Seen::of(response.request());
    let (mut response, Seen { place, caller, standing }) = if let Some(seen) = seen {
        (response.map_into_left_body(), seen)
    } else {
        let outside = response.into_response(no_door()).map_into_right_body();
        (outside, Seen { place: Place::Guarded, caller: None, standing: None })
    };

    let outcome = became(&response);
    let took = began.elapsed();
    if !place.is_probe() {
        shared.metrics.count(place.calculation(), outcome, took);
    }
    let status = response.status().as_u16();
    let (method, path) = (&method, path.as_str());
    Line { id: &id, trace, caller, method, path, place, status, outcome, took }.write();
    #[cfg(feature = "otlp")]
    if let Some(span) = span {
        crate::spans::end(span, method.as_str(), path, status, outcome.word());
    }
    let closes = shared.is_stopping();
    tell(response.headers_mut(), &id, trace, standing);
    if place == Place::Documentation {
        response.headers_mut().insert(header::CONTENT_SECURITY_POLICY, DOCUMENTATION);
    }
    if closes {
        response.response_mut().head_mut().set_connection_type(ConnectionType::Close);
    }
    Ok(response)
}

/// What one line of the log says. Never the document, nor the query, which may
/// hold one.
struct Line<'a> {
    id: &'a str,
    trace: Trace,
    caller: Option<Arc<str>>,
    method: &'a Method,
    path: &'a str,
    place: Place,
    status: u16,
    outcome: Outcome,
    took: Duration,
}

impl Line<'_> {
    fn write(&self) {
        macro_rules! line {
            ($level:ident) => {
                tracing::$level!(
                    target: "sumpwright::request",
                    id = self.id,
                    trace = format_args!("{:032x}", self.trace.trace),
                    caller = self.caller.as_deref(),
                    method = self.method.as_str(),
                    path = self.path,
                    calculation = self.place.calculation(),
                    status = self.status,
                    outcome = self.outcome.word(),
                    milliseconds = self.took.as_secs_f64() * 1e3,
                )
            };
        }
        if self.place.is_probe() { line!(debug) } else { line!(info) }
    }
}

fn became<B>(response: &ServiceResponse<B>) -> Outcome {
    let said = response.response().extensions().get::<Outcome>().copied();
    said.unwrap_or_else(|| match response.status() {
        StatusCode::INTERNAL_SERVER_ERROR => Outcome::Problem(ProblemKind::Internal),
        _ => Outcome::Answered,
    })
}

/// What every caller is told.
fn tell(headers: &mut HeaderMap, id: &str, trace: Trace, standing: Option<Standing>) {
    const ID: HeaderName = HeaderName::from_static("x-request-id");
    const TRACE: HeaderName = HeaderName::from_static("traceparent");
    let mut insert = |name: HeaderName, value: &str| {
        if let Ok(value) = HeaderValue::from_str(value) {
            headers.insert(name, value);
        }
    };
    insert(ID, id);
    insert(TRACE, &trace.to_string());
    for (name, value) in standing.iter().flat_map(Standing::headers) {
        insert(HeaderName::from_static(name), &value);
    }
    headers.insert(header::X_CONTENT_TYPE_OPTIONS, HeaderValue::from_static("nosniff"));
}
