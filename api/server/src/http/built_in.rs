//! Files that stay the same while the program runs: sent compressed where that is accepted, and only
//! once to a browser that keeps them.

use super::html;
use super::kept::{is_known, tag_of, takes_gzip};
use super::respond::{self, reading};
use actix_web::http::header;
use actix_web::{HttpRequest, HttpResponse, web};
use flate2::Compression;
use flate2::write::GzEncoder;
use std::io::Write;

/// A file ready to send.
pub(crate) struct BuiltInFile {
    address: &'static str,
    media_type: &'static str,
    /// Changes whenever the file changes.
    tag: String,
    plain: web::Bytes,
    packed: web::Bytes,
}

/// The file of a page at the address that was asked for, under the page's `policy`.
pub(crate) fn answer(
    request: &HttpRequest,
    files: &[BuiltInFile],
    policy: &'static str,
) -> HttpResponse {
    let address = request.match_pattern();
    let found = files.iter().find(|file| Some(file.address) == address.as_deref());
    reading(request, || match found {
        Some(file) => file.answer(request, policy),
        None => respond::nothing_at(request.path()),
    })
}

impl BuiltInFile {
    pub(crate) fn new(address: &'static str, media_type: &'static str, plain: Vec<u8>) -> Self {
        let tag = tag_of([plain.as_slice()]);
        Self::tagged(address, media_type, plain, tag)
    }

    /// A file with a tag of its own.
    pub(crate) fn tagged(
        address: &'static str,
        media_type: &'static str,
        plain: impl Into<web::Bytes>,
        tag: String,
    ) -> Self {
        let plain = plain.into();
        let mut encoder = GzEncoder::new(Vec::new(), Compression::best());
        // Writing into a vector does not fail.
        let packed = encoder.write_all(&plain).and_then(|()| encoder.finish());
        Self { address, media_type, tag, packed: packed.unwrap_or_default().into(), plain }
    }

    pub(crate) fn address(&self) -> &'static str {
        self.address
    }

    /// Whether a browser may show or run it by itself: a page, a picture, a worker. All else is under the
    /// policy of the page that names it.
    fn stands_alone(&self) -> bool {
        self.media_type.starts_with("text/html")
            || self.media_type == "image/svg+xml"
            || self.address.ends_with("-worker.js")
    }

    pub(crate) fn tag(&self) -> &str {
        &self.tag
    }

    /// The whole file, or a word that the browser has it already.
    pub(crate) fn answer(&self, request: &HttpRequest, policy: &'static str) -> HttpResponse {
        let known = is_known(request, &self.tag);
        let mut response = if known { HttpResponse::NotModified() } else { HttpResponse::Ok() };
        response
            .insert_header((header::ETAG, self.tag.as_str()))
            .insert_header((header::CACHE_CONTROL, "no-cache"))
            .insert_header((header::VARY, "accept-encoding"));
        if self.stands_alone() {
            html::guard(&mut response, policy);
        }
        if known {
            return response.finish();
        }
        response.content_type(self.media_type);
        if takes_gzip(request.headers()) {
            response.insert_header((header::CONTENT_ENCODING, "gzip"));
            return response.body(self.packed.clone());
        }
        response.body(self.plain.clone())
    }
}
