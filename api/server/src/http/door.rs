//! The door of every address: what stands there, and who may go in.
//!
//! An address is given its place where it is given to the router, and nowhere does
//! anything look at how it was spelled: what the router matched is what the door
//! guards, the rate counts and the log and the metrics name. What stands open is said
//! to; everything else, known or not, takes a key.
//!
//! **The door is at the resource, not at the gate.** The router goes by the decoded path, so anything that reads the
//! path as it was sent decides about another address. Every address is registered with its place (`door::at`), the guard
//! is middleware of that resource, and what was not given a place is not answered. Open is a short list; all else is
//! guarded.

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

/// What stands at an address.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Address {
    /// What is the same for everybody.
    Open,
    /// Asked every few seconds by what watches over the service.
    Probe,
    /// What the service counts of itself, asked as often.
    Metrics,
    /// A calculation, by name.
    Calculation(&'static str),
    /// Anything else, and all that is at no address.
    Guarded,
}

impl Address {
    /// Whether only those may go in whom the service knows, and no more often than
    /// they may.
    #[must_use]
    pub const fn is_guarded(self) -> bool {
        !matches!(self, Self::Open | Self::Probe)
    }

    /// Whether it is asked every few seconds by what watches over the service.
    #[must_use]
    pub const fn is_probe(self) -> bool {
        matches!(self, Self::Probe | Self::Metrics)
    }

    /// The calculation that answers there, if one does.
    #[must_use]
    pub const fn calculation(self) -> Option<&'static str> {
        match self {
            Self::Calculation(name) => Some(name),
            _ => None,
        }
    }
}

/// A request that has come to a door: where it leads, and who sent it.
#[derive(Debug, Clone)]
pub(crate) struct Arrival {
    pub(crate) address: Address,
    pub(crate) caller: Option<Arc<str>>,
}

impl Arrival {
    /// How a request arrived; none where there was no door.
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

/// What answers where there is nothing, behind a door as everything is.
pub(crate) fn elsewhere(answer: Route) -> Route {
    let door = |shared: web::Data<Shared>, request: ServiceRequest, next: Next<BoxBody>| {
        admit(Address::Guarded, shared, request, next)
    };
    answer.wrap(from_fn(door))
}

/// Lets a request through to `address`, or not.
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

/// Who comes to an address, by name where the service knows callers; or what somebody is
/// told whom it does not know.
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

/// Counts a request against the limit of its caller, where there is one.
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
        "That is more than {} requests a minute. The next is answered in {seconds} s.",
        standing.a_minute()
    );
    let problem = Problem::plain(ProblemKind::TooMany, detail);
    Some(refused(&problem, header::RETRY_AFTER, HeaderValue::from(seconds)))
}

/// RFC 6750: a key that is wrong is told apart from none.
fn no_key(one_was_given: bool) -> HttpResponse {
    let (detail, challenge) = if one_was_given {
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
    refused(&problem, header::WWW_AUTHENTICATE, HeaderValue::from_static(challenge))
}

/// A request where no door was made stays outside: nothing of what it was answered
/// goes out.
pub(crate) fn no_door() -> HttpResponse {
    tracing::error!("an address has no door");
    respond::problem(&Problem::plain(ProblemKind::Internal, "This address has no door."))
}

fn refused(problem: &Problem, name: HeaderName, value: HeaderValue) -> HttpResponse {
    let mut response = respond::problem(problem);
    response.headers_mut().insert(name, value);
    response
}
