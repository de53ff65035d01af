//! What a caller has and takes: by the tag of what it has kept, and packed or not.

use actix_web::HttpRequest;
use actix_web::http::header::{self, HeaderMap};
use std::hash::{DefaultHasher, Hash, Hasher};

/// The tag of what is made of `parts`: it changes whenever one of them does.
pub(crate) fn tag_of<'a>(parts: impl IntoIterator<Item = &'a [u8]>) -> String {
    let mut hasher = DefaultHasher::new();
    parts.into_iter().for_each(|part| part.hash(&mut hasher));
    format!("W/\"{:x}\"", hasher.finish())
}

/// Whether the caller takes what is packed by gzip.
pub(crate) fn takes_gzip(headers: &HeaderMap) -> bool {
    let accepted = headers.get_all(header::ACCEPT_ENCODING).filter_map(|value| value.to_str().ok());
    accepted.flat_map(|value| value.split(',')).any(|coding| {
        let (name, weight) = coding.split_once(';').unwrap_or((coding, ""));
        let refused = weight.trim().trim_start_matches("q=").parse() == Ok(0.0);
        name.trim().eq_ignore_ascii_case("gzip") && !refused
    })
}

/// Whether the caller has what goes by this tag.
pub(crate) fn is_known(request: &HttpRequest, tag: &str) -> bool {
    let said = request.headers().get(header::IF_NONE_MATCH).and_then(|said| said.to_str().ok());
    said.unwrap_or_default().split(',').any(|one| one.trim() == tag)
}
