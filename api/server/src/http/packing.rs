//! What goes out once it is known what it is: packed where the caller takes that, with a tag by which
//! what has not changed need not be sent again, and with the headers that a cache goes by.
//!
//! # Decisions
//!
//! - **The packing is actix's own** ([`Encoder`]), at the gate and not as a layer of its own: a layer refuses by itself who
//!   forbids every coding, past the door and without a problem.
//! - **What is short goes as it is**: a cell's number would be longer packed.
//! - **An answer has a tag, and no time for which it is good**: the same question has the same answer until the
//!   next release, which nobody can tell beforehand.

use super::door::{Address, Arrival};
use super::kept::{is_known, tag_of, takes_gzip};
use actix_http::ContentEncoding;
use actix_http::encoding::Encoder;
use actix_web::HttpResponse;
use actix_web::body::{BodySize, EitherBody, MessageBody};
use actix_web::dev::ServiceResponse;
use actix_web::http::header::{self, HeaderValue};
use actix_web::http::{Method, StatusCode};
use actix_web::web::Bytes;

/// So many bytes make it worth while.
const LEAST: u64 = 1024;

/// Packs a response where that is worth while, and says what a cache has to know.
pub(crate) fn pack<B: MessageBody + 'static>(
    mut response: ServiceResponse<B>,
) -> ServiceResponse<Encoder<EitherBody<B, Bytes>>> {
    let packable = is_packable(&response);
    let varies = varies_with(&response, packable);
    if let Some(varies) = varies {
        response.headers_mut().insert(header::VARY, varies);
    }
    let cached = response.headers().contains_key(header::CACHE_CONTROL);
    if !cached && response.status() != StatusCode::SWITCHING_PROTOCOLS {
        let no_cache = HeaderValue::from_static("no-cache");
        response.headers_mut().insert(header::CACHE_CONTROL, no_cache);
    }
    let response = if cached { response.map_into_left_body() } else { tagged(response) };
    let gzip = packable && takes_gzip(response.request().headers());
    let coding = if gzip { ContentEncoding::Gzip } else { ContentEncoding::Identity };
    let vary = response.headers().get(header::VARY).cloned();
    let mut response = response.map_body(|head, body| Encoder::response(coding, head, body));
    if let Some(vary) = vary {
        response.headers_mut().insert(header::VARY, vary);
    }
    response
}

/// Whether a body is text, not short, and to be sent as the caller's own tool unpacks it.
fn is_packable<B: MessageBody>(response: &ServiceResponse<B>) -> bool {
    let headers = response.headers();
    let kind = headers.get(header::CONTENT_TYPE).and_then(|kind| kind.to_str().ok());
    let is_text = kind.is_some_and(|kind| {
        kind.starts_with("text/") || kind.contains("json") || kind.contains("svg")
    });
    let is_long = match response.response().body().size() {
        BodySize::Sized(bytes) => bytes >= LEAST,
        BodySize::Stream => true,
        BodySize::None => false,
    };
    // A digest is of what is sent, and is to be the same whoever sends it.
    let is_filed = headers.contains_key("content-digest");
    is_text && is_long && !is_filed && !headers.contains_key(header::CONTENT_ENCODING)
}

/// The headers of a request that the response hangs on, if any.
fn varies_with<B>(response: &ServiceResponse<B>, packable: bool) -> Option<HeaderValue> {
    let said = response.headers().get(header::VARY).and_then(|said| said.to_str().ok());
    let address = Arrival::of(response.request()).map(|arrival| arrival.address);
    let asked = matches!(address, Some(Address::Calculation(_)));
    let mut all: Vec<&str> = said.into_iter().flat_map(|said| said.split(", ")).collect();
    let by_address = if asked { &["Accept", "Prefer"][..] } else { &[] };
    let by_coding = if packable { &["Accept-Encoding"][..] } else { &[] };
    for name in by_address.iter().chain(by_coding) {
        if !all.iter().any(|known| known.eq_ignore_ascii_case(name)) {
            all.push(name);
        }
    }
    HeaderValue::from_str(&all.join(", ")).ok().filter(|_| !all.is_empty())
}

/// Tags a whole answer to a GET, and sends no more than a word where the caller has it.
fn tagged<B: MessageBody + 'static>(
    response: ServiceResponse<B>,
) -> ServiceResponse<EitherBody<B, Bytes>> {
    let is_read = matches!(*response.request().method(), Method::GET | Method::HEAD);
    let is_whole = matches!(response.response().body().size(), BodySize::Sized(1..));
    let is_tagged = response.headers().contains_key(header::ETAG);
    if !is_read || !is_whole || is_tagged || response.status() != StatusCode::OK {
        return response.map_into_left_body();
    }
    let (request, response) = response.into_parts();
    let (response, body) = response.into_parts();
    let bytes = match body.try_into_bytes() {
        Ok(bytes) => bytes,
        Err(body) => {
            return ServiceResponse::new(request, response.set_body(body)).map_into_left_body();
        }
    };
    let tag = tag_of([&bytes[..]]);
    let mut response = if is_known(&request, &tag) {
        let mut response = response.set_body(Bytes::new());
        *response.status_mut() = StatusCode::NOT_MODIFIED;
        response.headers_mut().remove(header::CONTENT_TYPE);
        response
    } else {
        response.set_body(bytes)
    };
    if let Ok(tag) = HeaderValue::from_str(&tag) {
        response.headers_mut().insert(header::ETAG, tag);
    }
    ServiceResponse::new(request, HttpResponse::map_into_right_body(response))
}
