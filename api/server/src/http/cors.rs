//! Pages of other sites: which of them may ask, and what the others are told.

use super::respond;
use actix_cors::{Cors, CorsError};
use actix_web::Error;
use actix_web::body::{EitherBody, MessageBody};
use actix_web::dev::{ServiceRequest, ServiceResponse};
use actix_web::http::{Method, header};
use actix_web::middleware::Next;
use sumpwright_openapi::problem::{Problem, ProblemKind};

/// Seconds for which a browser may cache the rules for other sites.
const AGE: usize = 3600;

/// The rules for pages of other sites: they may ask and read the answers.
pub(crate) fn rules(origins: &[String]) -> Cors {
    let cors = Cors::default()
        .allowed_methods([Method::GET, Method::POST])
        .allowed_headers([header::AUTHORIZATION, header::CONTENT_TYPE, header::ACCEPT])
        .allowed_headers(["prefer", "want-content-digest", "x-request-id", "traceparent"])
        .expose_headers(["x-request-id", "traceparent", "retry-after", "ratelimit"])
        .expose_headers(["content-digest", "etag"])
        .max_age(AGE);
    origins.iter().fold(cors, |cors, origin| cors.allowed_origin(origin))
}

/// Tells a page that may not ask so by a problem, as everybody is told.
pub(crate) async fn refusals<B: MessageBody + 'static>(
    request: ServiceRequest,
    next: Next<B>,
) -> Result<ServiceResponse<EitherBody<B>>, Error> {
    let response = next.call(request).await?;
    let refusal = response.response().error().and_then(|error| error.as_error::<CorsError>());
    let Some(refusal) = refusal else { return Ok(response.map_into_left_body()) };
    let detail = match refusal {
        CorsError::MethodNotAllowed => "Pages of other sites may only ask by GET and POST.",
        CorsError::HeadersNotAllowed => {
            "Pages of other sites may only send Authorization, Content-Type, Accept, Prefer, \
             Want-Content-Digest, X-Request-Id and traceparent."
        }
        CorsError::OriginNotAllowed => {
            "Pages of this site may not ask here. Whoever runs the service lists the sites that \
             may, in cors_origins."
        }
        _ => "What a browser asks for a page of another site cannot be read.",
    };
    let problem = respond::problem(&Problem::plain(ProblemKind::OtherSite, detail));
    let mut response = response.into_response(problem).map_into_right_body();
    let nosniff = header::HeaderValue::from_static("nosniff");
    response.headers_mut().insert(header::X_CONTENT_TYPE_OPTIONS, nosniff);
    response.headers_mut().insert(header::VARY, header::HeaderValue::from_static("Origin"));
    Ok(response)
}
