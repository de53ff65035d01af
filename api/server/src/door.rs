//! The door of every address: what stands there, and who may go in.
//!
//! An address is given its place where it is given to the router, and nowhere does
//! anything look at how it was spelled: what the router matched is what the door
//! guards, the rate counts and the log and the metrics name. What stands open is said
//! to; everything else, known or not, takes a key.

use crate::rates::Standing;
use crate::respond;
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
pub enum Place {
    /// What is the same for everybody.
    Open,
    /// The documentation page and its files, the same for everybody.
    Documentation,
    /// Asked every few seconds by what watches over the service.
    Probe,
    /// What the service counts of itself, asked as often.
    Metrics,
    /// A calculation, by name.
    Calculation(&'static str),
    /// Anything else, and all that is at no address.
    Guarded,
}

impl Place {
    /// Whether only those may go in whom the service knows, and no more often than
    /// they may.
    #[must_use]
    pub const fn is_guarded(self) -> bool {
        !matches!(self, Self::Open | Self::Documentation | Self::Probe)
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

/// A request at its door: where it came to, and who sent it.
#[derive(Debug, Clone)]
pub(crate) struct Seen {
    pub(crate) place: Place,
    pub(crate) caller: Option<Arc<str>>,
    pub(crate) standing: Option<Standing>,
}

impl Seen {
    /// What the door saw of a request; none where there was no door.
    pub(crate) fn of(request: &HttpRequest) -> Option<Self> {
        request.extensions().get::<Self>().cloned()
    }
}

/// An address with a door.
pub(crate) fn at(
    address: &str,
    place: Place,
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
        through(place, shared, request, next)
    };
    web::resource(address).wrap(from_fn(door))
}

/// What answers where there is nothing, behind a door as everything is.
pub(crate) fn elsewhere(answer: Route) -> Route {
    let door = |shared: web::Data<Shared>, request: ServiceRequest, next: Next<BoxBody>| {
        through(Place::Guarded, shared, request, next)
    };
    answer.wrap(from_fn(door))
}

/// Lets a request through to `place`, or not.
pub(crate) async fn through<B: MessageBody + 'static>(
    place: Place,
    shared: web::Data<Shared>,
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<EitherBody<B>>, Error> {
    let (seen, refusal) = look_at(place, &shared, &request);
    request.extensions_mut().insert(seen);
    match refusal {
        None => Ok(next.call(request).await?.map_into_left_body()),
        Some(response) => Ok(request.into_response(response).map_into_right_body()),
    }
}

/// Who comes to a place, and what they are told if they may not go in.
fn look_at(
    place: Place,
    shared: &Shared,
    request: &ServiceRequest,
) -> (Seen, Option<HttpResponse>) {
    let mut seen = Seen { place, caller: None, standing: None };
    if !place.is_guarded() {
        return (seen, None);
    }
    if let Some(keys) = &shared.keys {
        let authorization = request.headers().get(header::AUTHORIZATION).map(HeaderValue::as_bytes);
        seen.caller = keys.name_of(authorization);
        if seen.caller.is_none() {
            return (seen, Some(no_key(authorization.is_some())));
        }
    }
    let Some(rates) = &shared.rates else { return (seen, None) };
    let counted = seen.caller.clone().unwrap_or_else(|| {
        request.peer_addr().map_or_else(String::new, |peer| peer.ip().to_string()).into()
    });
    let standing = rates.count(&counted);
    seen.standing = Some(standing);
    (seen, standing.wait.map(|seconds| too_many(standing, seconds)))
}

fn too_many(standing: Standing, seconds: u64) -> HttpResponse {
    let detail = format!(
        "That is more than {} requests a minute. The next is answered in {seconds} s.",
        standing.a_minute()
    );
    let problem = Problem::plain(ProblemKind::TooMany, detail);
    refused(&problem, header::RETRY_AFTER, HeaderValue::from(seconds))
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
