//! The gate that every request passes: who asks, how often, as part of what, and
//! what became of it.

use crate::metrics::Outcome;
use crate::rates::Standing;
use crate::respond;
use crate::shared::Shared;
use crate::trace::{Trace, request_id};
use actix_http::ConnectionType;
use actix_web::body::{EitherBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::header::{self, HeaderMap, HeaderName, HeaderValue};
use actix_web::http::{Method, StatusCode};
use actix_web::middleware::Next;
use actix_web::{Error, HttpMessage, HttpRequest, HttpResponse, web};
use std::sync::Arc;
use std::time::{Duration, Instant};
use sumpwright_openapi::problem::{Problem, ProblemKind};

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

/// A request whose caller is known.
struct Admitted {
    caller: Option<Arc<str>>,
    standing: Option<Standing>,
}

/// One that is turned away.
struct Refused {
    response: HttpResponse,
    standing: Option<Standing>,
}

impl Refused {
    fn new(problem: &Problem, name: HeaderName, value: HeaderValue) -> Self {
        let mut response = respond::problem(problem);
        response.headers_mut().insert(name, value);
        Self { response, standing: None }
    }
}

/// Lets a request through, or not, and tells the log, the metrics and the caller.
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
    let place = span.as_ref().map(crate::spans::place);
    #[cfg(not(feature = "otlp"))]
    let place = None;
    let trace = place.unwrap_or_else(|| Trace::below(caller_place));
    let id = request_id(request.headers(), &trace);
    request.extensions_mut().insert(RequestId(id.as_str().into()));

    let (method, path) = (request.method().clone(), request.path().to_owned());
    let calculation = calculation(&shared, &path);
    let (mut response, caller, standing) = match admit(&shared, &request) {
        Ok(Admitted { caller, standing }) => {
            (next.call(request).await?.map_into_left_body(), caller, standing)
        }
        Err(Refused { response, standing }) => {
            (request.into_response(response).map_into_right_body(), None, standing)
        }
    };

    let outcome = became(&response);
    let took = began.elapsed();
    if !is_probe(&path) {
        shared.metrics.count(calculation, outcome, took);
    }
    let status = response.status().as_u16();
    let line = Line { id: &id, trace, caller, method: &method, path: &path, status, outcome, took };
    line.write(calculation);
    #[cfg(feature = "otlp")]
    if let Some(span) = span {
        crate::spans::end(span, method.as_str(), &path, status, outcome.word());
    }
    let closes = shared.is_stopping();
    tell(response.headers_mut(), &id, trace, standing);
    if path.starts_with("/docs/") {
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
    status: u16,
    outcome: Outcome,
    took: Duration,
}

impl Line<'_> {
    fn write(&self, calculation: Option<&'static str>) {
        macro_rules! line {
            ($level:ident) => {
                tracing::$level!(
                    target: "sumpwright::request",
                    id = self.id,
                    trace = format_args!("{:032x}", self.trace.trace),
                    caller = self.caller.as_deref(),
                    method = self.method.as_str(),
                    path = self.path,
                    calculation,
                    status = self.status,
                    outcome = self.outcome.word(),
                    milliseconds = self.took.as_secs_f64() * 1e3,
                )
            };
        }
        if is_probe(self.path) { line!(debug) } else { line!(info) }
    }
}

/// Asked every few seconds by what watches over the service.
fn is_probe(path: &str) -> bool {
    matches!(path, "/livez" | "/readyz" | "/metrics")
}

/// Addresses that answer with the service's work, or tell of it. All others are
/// the same for everybody.
fn takes_key(path: &str) -> bool {
    path == "/metrics"
        || path.strip_prefix("/v1").is_some_and(|rest| !rest.starts_with(char::is_alphanumeric))
}

fn calculation(shared: &Shared, path: &str) -> Option<&'static str> {
    let name = path.strip_prefix("/v1/")?;
    shared.services.get(name).map(|service| service.name)
}

fn admit(shared: &Shared, request: &ServiceRequest) -> Result<Admitted, Refused> {
    if !takes_key(request.path()) {
        return Ok(Admitted { caller: None, standing: None });
    }
    let authorization = request.headers().get(header::AUTHORIZATION).map(HeaderValue::as_bytes);
    let caller = match &shared.keys {
        Some(keys) => Some(keys.name_of(authorization).ok_or_else(|| no_key(authorization))?),
        None => None,
    };
    let Some(rates) = &shared.rates else { return Ok(Admitted { caller, standing: None }) };
    let counted = caller.clone().unwrap_or_else(|| {
        request.peer_addr().map_or_else(String::new, |peer| peer.ip().to_string()).into()
    });
    let standing = rates.count(&counted);
    match standing.wait {
        None => Ok(Admitted { caller, standing: Some(standing) }),
        Some(seconds) => {
            let detail = format!(
                "That is more than {} requests a minute. The next is answered in {seconds} s.",
                standing.a_minute()
            );
            let problem = Problem::plain(ProblemKind::TooMany, detail);
            let wait = HeaderValue::from(seconds);
            let refused = Refused::new(&problem, header::RETRY_AFTER, wait);
            Err(Refused { standing: Some(standing), ..refused })
        }
    }
}

/// RFC 6750: a key that is wrong is told apart from none.
fn no_key(authorization: Option<&[u8]>) -> Refused {
    let (detail, challenge) = if authorization.is_some() {
        (
            "The key in Authorization is not one that the service knows. It may have been withdrawn or \
          mistyped.",
            "Bearer realm=\"sumpwright\", error=\"invalid_token\"",
        )
    } else {
        (
            "The service answers callers that it knows. Send Authorization: Bearer and your key.",
            "Bearer realm=\"sumpwright\"",
        )
    };
    let problem = Problem::plain(ProblemKind::NoKey, detail);
    Refused::new(&problem, header::WWW_AUTHENTICATE, HeaderValue::from_static(challenge))
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
