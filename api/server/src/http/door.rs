//! The door of every address: the kind of address it is, and who may use it.
//!
//! An address gets its place where it is registered with the router, and nothing looks
//! at how a request spelled it: the door, the rate limit, the log and the metrics all go by
//! the route that the router matched. Open addresses are marked as open; all others,
//! known or not, need a key.
//!
//! **The door is at the resource, not at the gate.** The router uses the decoded path, so code that reads the
//! path as sent would decide about a different address. Every address is registered with its place (`door::at`),
//! the guard is middleware of that resource, and an address without a place is not answered. A short list is
//! open; everything else is guarded.

use super::respond;
use crate::access::rates::RateStanding;
use crate::shared::Shared;
use actix_web::body::{BoxBody, EitherBody, MessageBody};
use actix_web::dev::{ServiceFactory, ServiceRequest, ServiceResponse};
use actix_web::http::header::{self, HeaderName, HeaderValue};
use actix_web::middleware::{Next, from_fn};
use actix_web::{Error, HttpMessage, HttpRequest, HttpResponse, Resource, Route, web};
use std::sync::Arc;
use sumpwright_openapi::problem::{Problem, ProblemKind};

/// The kind of an address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Address {
    /// Pages and documents that are the same for everybody.
    Open,
    /// Probes, which a supervisor requests every few seconds.
    Probe,
    /// The metrics, requested just as often.
    Metrics,
    /// A calculation, by name.
    Calculation(&'static str),
    /// Everything else, including addresses that do not exist.
    Guarded,
}

impl Address {
    /// Whether the address needs a key and counts against the caller's request
    /// limit.
    #[must_use]
    pub const fn is_guarded(self) -> bool {
        !matches!(self, Self::Open | Self::Probe)
    }

    /// Whether a supervisor requests it every few seconds.
    #[must_use]
    pub const fn is_probe(self) -> bool {
        matches!(self, Self::Probe | Self::Metrics)
    }

    /// The calculation at the address, if it is one.
    #[must_use]
    pub const fn calculation(self) -> Option<&'static str> {
        match self {
            Self::Calculation(name) => Some(name),
            _ => None,
        }
    }
}

/// A request that has come to a door: its place, and who sent it.
#[derive(Debug, Clone)]
pub(crate) struct Arrival {
    pub(crate) address: Address,
    pub(crate) caller: Option<Arc<str>>,
}

impl Arrival {
    /// The arrival of a request, if it passed a door.
    pub(crate) fn of(request: &HttpRequest) -> Option<Self> {
        request.extensions().get::<Self>().cloned()
    }
}

/// An address with a door.
pub(crate) fn at(
    path: &str,
    address: Address,
) -> Resource<
    impl ServiceFactory<
        ServiceRequest,
        Config = (),
        Response = ServiceResponse<EitherBody<BoxBody>>,
        Error = Error,
        InitError = (),
    > + use<>,
> {
    let door = move |shared: web::Data<Shared>, request: ServiceRequest, next: Next<BoxBody>| {
        admit(address, shared, request, next)
    };
    web::resource(path).wrap(from_fn(door))
}

/// The answer where there is nothing, behind a door like everything else.
pub(crate) fn elsewhere(answer: Route) -> Route {
    let door = |shared: web::Data<Shared>, request: ServiceRequest, next: Next<BoxBody>| {
        admit(Address::Guarded, shared, request, next)
    };
    answer.wrap(from_fn(door))
}

/// Lets a request through to `address`, or refuses it.
pub(crate) async fn admit<B: MessageBody + 'static>(
    address: Address,
    shared: web::Data<Shared>,
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<EitherBody<B>>, Error> {
    let (caller, unknown) = match identify(address, &shared, &request) {
        Ok(caller) => (caller, None),
        Err(refusal) => (None, Some(refusal)),
    };
    let standing = match &unknown {
        None if address.is_guarded() => count(&shared, caller.as_ref(), &request),
        _ => None,
    };
    request.extensions_mut().insert(Arrival { address, caller });
    let refusal = unknown.or_else(|| standing.and_then(too_many));
    let mut response = match refusal {
        None => next.call(request).await?.map_into_left_body(),
        Some(response) => request.into_response(response).map_into_right_body(),
    };
    for (name, value) in standing.iter().flat_map(RateStanding::headers) {
        if let Ok(value) = HeaderValue::from_str(&value) {
            response.headers_mut().insert(HeaderName::from_static(name), value);
        }
    }
    Ok(response)
}

/// The caller's name, if the service has keys; or the refusal of a caller without a
/// valid key.
fn identify(
    address: Address,
    shared: &Shared,
    request: &ServiceRequest,
) -> Result<Option<Arc<str>>, HttpResponse> {
    let Some(keys) = shared.keys.as_ref().filter(|_| address.is_guarded()) else { return Ok(None) };
    let authorization = request.headers().get(header::AUTHORIZATION).map(HeaderValue::as_bytes);
    let caller = keys.name_of(authorization);
    caller.map(Some).ok_or_else(|| no_key(authorization.is_some()))
}

/// Counts a request against its caller's limit, if there is one.
fn count(
    shared: &Shared,
    caller: Option<&Arc<str>>,
    request: &ServiceRequest,
) -> Option<RateStanding> {
    let rates = shared.rates.as_ref()?;
    let counted = caller.cloned().unwrap_or_else(|| {
        request.peer_addr().map_or_else(String::new, |peer| peer.ip().to_string()).into()
    });
    Some(rates.count(&counted))
}

fn too_many(standing: RateStanding) -> Option<HttpResponse> {
    let seconds = standing.wait?;
    let detail = format!(
        "You have sent more than {} requests per minute. The next one is answered in {seconds} s.",
        standing.a_minute()
    );
    let problem = Problem::plain(ProblemKind::TooMany, detail);
    Some(refused(&problem, header::RETRY_AFTER, HeaderValue::from(seconds)))
}

/// RFC 6750: a wrong key and a missing key get different challenges.
fn no_key(one_was_given: bool) -> HttpResponse {
    let (detail, challenge) = if one_was_given {
        (
            "The service does not know the key in Authorization. It may have been withdrawn or \
          mistyped.",
            "Bearer realm=\"sumpwright\", error=\"invalid_token\"",
        )
    } else {
        (
            "This service needs a key. Send it in the header Authorization: Bearer KEY.",
            "Bearer realm=\"sumpwright\"",
        )
    };
    let problem = Problem::plain(ProblemKind::NoKey, detail);
    refused(&problem, header::WWW_AUTHENTICATE, HeaderValue::from_static(challenge))
}

/// The response to a request that passed no door: its own response is not sent
/// out.
pub(crate) fn no_door() -> HttpResponse {
    tracing::error!("an address has no door");
    respond::problem(&Problem::plain(ProblemKind::Internal, "This address has no door."))
}

fn refused(problem: &Problem, name: HeaderName, value: HeaderValue) -> HttpResponse {
    let mut response = respond::problem(problem);
    response.headers_mut().insert(name, value);
    response
}
