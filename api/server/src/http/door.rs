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

use super::address_key;
use super::respond;
use crate::access::caller::by_address;
use crate::access::keys::{Holder, Keys};
use crate::access::rates::RateStanding;
use crate::shared::Shared;
use actix_web::body::{BoxBody, EitherBody, MessageBody};
use actix_web::dev::{ServiceFactory, ServiceRequest, ServiceResponse};
use actix_web::http::Method;
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
    /// The name of the caller's key, if it has one.
    pub(crate) caller: Option<Arc<str>>,
    /// Whom it is counted as: the name of its key, else its address.
    pub(crate) counted: Arc<str>,
}

impl Arrival {
    /// Whom a request behind a door is counted as.
    pub(crate) fn counted(request: &HttpRequest) -> Arc<str> {
        Self::of(request).map_or_else(|| "".into(), |arrival| arrival.counted)
    }

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
    mut request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<EitherBody<B>>, Error> {
    let in_address = address_key::take(&mut request);
    let had_a_key = !matches!(in_address, Ok(None));
    let (caller, unknown) = match identify(address, &shared, &request, in_address) {
        Ok(caller) => (caller, None),
        Err(Refusal { caller, response }) => (caller, Some(response)),
    };
    let counted = caller.clone().unwrap_or_else(|| {
        let peer = request.peer_addr().map(|peer| peer.ip());
        by_address(peer, request.headers(), &shared.trusted_proxies)
    });
    let standing = match &unknown {
        None if address.is_guarded() => shared.rates.as_ref().map(|rates| rates.count(&counted)),
        _ => None,
    };
    request.extensions_mut().insert(Arrival { address, caller, counted });
    let refusal = unknown.or_else(|| standing.and_then(too_many));
    let mut response = match refusal {
        None => next.call(request).await?.map_into_left_body(),
        Some(response) => request.into_response(response).map_into_right_body(),
    };
    if had_a_key {
        address_key::keep_secret(response.headers_mut());
    }
    for (name, value) in standing.iter().flat_map(RateStanding::headers) {
        if let Ok(value) = HeaderValue::from_str(&value) {
            response.headers_mut().insert(HeaderName::from_static(name), value);
        }
    }
    Ok(response)
}

/// Why a request is not let in; the caller, if it is known.
struct Refusal {
    caller: Option<Arc<str>>,
    response: HttpResponse,
}

/// The caller's name, if the service has keys; or the refusal of a caller without a
/// valid key, or with one that is for something else.
fn identify(
    address: Address,
    shared: &Shared,
    request: &ServiceRequest,
    in_address: Result<Option<String>, Problem>,
) -> Result<Option<Arc<str>>, Refusal> {
    let Some(keys) = shared.keys.as_ref().filter(|_| address.is_guarded()) else { return Ok(None) };
    let in_address = in_address
        .map_err(|problem| Refusal { caller: None, response: respond::problem(&problem) })?;
    let holder = match &in_address {
        Some(key) => holder_by_address(keys, key)?,
        None => holder_by_header(keys, request)?,
    };
    let may = holder.reads.as_ref().is_none_or(|calculations| {
        let is_named = |name| calculations.contains(&name);
        let is_reading = matches!(*request.method(), Method::GET | Method::HEAD | Method::OPTIONS);
        is_reading && address.calculation().is_some_and(is_named)
    });
    if may { Ok(Some(holder.name)) } else { Err(not_allowed(&holder)) }
}

fn holder_by_header(keys: &Keys, request: &ServiceRequest) -> Result<Holder, Refusal> {
    let authorization = request.headers().get(header::AUTHORIZATION).map(HeaderValue::as_bytes);
    keys.holder_by_header(authorization).ok_or_else(|| {
        let (detail, challenge) = match authorization {
            Some(_) => (UNKNOWN_IN_HEADER, INVALID),
            None => (NO_KEY, MISSING),
        };
        Refusal { caller: None, response: no_key(detail, challenge) }
    })
}

/// The holder of a key in an address, which has to be one for addresses.
fn holder_by_address(keys: &Keys, key: &str) -> Result<Holder, Refusal> {
    let Some(holder) = keys.holder(key.as_bytes()) else {
        return Err(Refusal { caller: None, response: no_key(UNKNOWN_IN_ADDRESS, INVALID) });
    };
    if holder.reads.is_some() {
        return Ok(holder);
    }
    tracing::warn!(
        caller = &*holder.name,
        "a key that is not for addresses was sent in one, where others may read it: change it"
    );
    Err(Refusal { caller: Some(holder.name), response: no_key(NOT_FOR_ADDRESSES, INVALID) })
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

const NO_KEY: &str = "This service needs a key. Send it in the header Authorization: Bearer KEY.";
const UNKNOWN_IN_HEADER: &str =
    "The service does not know the key in Authorization. It may have been withdrawn or mistyped.";
const UNKNOWN_IN_ADDRESS: &str =
    "The service does not know the key in the address. It may have been withdrawn or mistyped.";
const NOT_FOR_ADDRESSES: &str = "This key may not stand in an address. Send it in the header Authorization: Bearer KEY, and \
     have it changed: addresses are kept in histories and logs, where others can read it. Ask \
     whoever runs the service for a key that is for addresses.";

/// RFC 6750: a wrong key, a missing key and a key for something else get different challenges.
const MISSING: &str = "Bearer realm=\"sumpwright\"";
const INVALID: &str = "Bearer realm=\"sumpwright\", error=\"invalid_token\"";
const INSUFFICIENT: &str = "Bearer realm=\"sumpwright\", error=\"insufficient_scope\"";

fn no_key(detail: &str, challenge: &'static str) -> HttpResponse {
    let problem = Problem::plain(ProblemKind::NoKey, detail);
    refused(&problem, header::WWW_AUTHENTICATE, HeaderValue::from_static(challenge))
}

fn not_allowed(holder: &Holder) -> Refusal {
    let calculations = holder.reads.as_deref().unwrap_or_default().join(", ");
    let detail = format!("This key only asks by GET, and only for {calculations}.");
    let problem = Problem::plain(ProblemKind::NotAllowed, detail);
    let challenge = HeaderValue::from_static(INSUFFICIENT);
    let response = refused(&problem, header::WWW_AUTHENTICATE, challenge);
    Refusal { caller: Some(Arc::clone(&holder.name)), response }
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
