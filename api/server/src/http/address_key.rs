//! A key that stands in an address, where a cell of a spreadsheet can send no header.
//!
//! **The door takes it out of the address first of all**, so that nothing behind the door can log, count or
//! repeat it. What stands in front of the gate sees the path alone. The answer tells browsers and
//! intermediaries to keep nothing of it, and not to send its address on (RFC 6750, section 2.3).

use actix_web::dev::ServiceRequest;
use actix_web::http::header::{CACHE_CONTROL, HeaderMap, HeaderValue, REFERRER_POLICY};
use actix_web::http::uri::{PathAndQuery, Uri};
use sumpwright_openapi::document::ADDRESS_KEY;
use sumpwright_openapi::problem::{FaultCode, Problem};

/// Takes the key out of the address of a request. A blank one counts as not given.
pub(super) fn take(request: &mut ServiceRequest) -> Result<Option<String>, Problem> {
    let is_key = |pair: &&str| {
        let name = form_urlencoded::parse(pair.as_bytes()).next();
        name.is_some_and(|(name, _)| name == ADDRESS_KEY)
    };
    let query = request.query_string();
    if !query.split('&').any(|pair| is_key(&pair)) {
        return Ok(None);
    }
    let (keys, others): (Vec<&str>, Vec<&str>) = query.split('&').partition(is_key);
    let texts = keys.iter().flat_map(|pair| form_urlencoded::parse(pair.as_bytes()));
    let mut texts: Vec<String> = texts.map(|(_, text)| text.trim().to_owned()).collect();
    let address = match others.as_slice() {
        [] => request.path().to_owned(),
        others => format!("{}?{}", request.path(), others.join("&")),
    };
    replace(request, &address)?;
    if texts.len() > 1 {
        let detail = format!("{ADDRESS_KEY} is given twice in the query.");
        return Err(Problem::of_whole(FaultCode::GivenTwice, detail));
    }
    Ok(texts.pop().filter(|text| !text.is_empty()))
}

fn replace(request: &mut ServiceRequest, address: &str) -> Result<(), Problem> {
    let unreadable =
        || Problem::of_whole(FaultCode::WrongShape, "The address of this request cannot be read.");
    let mut parts = request.uri().clone().into_parts();
    parts.path_and_query = Some(PathAndQuery::try_from(address).map_err(|_| unreadable())?);
    request.head_mut().uri = Uri::from_parts(parts).map_err(|_| unreadable())?;
    Ok(())
}

/// Keeps the address of an answer to oneself.
pub(super) fn keep_secret(headers: &mut HeaderMap) {
    headers.insert(CACHE_CONTROL, HeaderValue::from_static("no-store, private"));
    headers.insert(REFERRER_POLICY, HeaderValue::from_static("no-referrer"));
}

#[cfg(test)]
mod tests {
    use super::*;
    use actix_web::test::TestRequest;

    fn taken(address: &str) -> (Result<Option<String>, Problem>, String) {
        let mut request = TestRequest::with_uri(address).to_srv_request();
        let key = take(&mut request);
        (key, request.uri().to_string())
    }

    #[test]
    fn the_key_is_gone_from_the_address_and_all_else_stays() {
        for (address, key, left) in [
            ("/v1/top-up?a=1&key=abc&b=%2B2", Some("abc"), "/v1/top-up?a=1&b=%2B2"),
            ("/v1/top-up?key=abc", Some("abc"), "/v1/top-up"),
            ("/v1/top-up?%6bey=a%62c&x", Some("abc"), "/v1/top-up?x"),
            ("/v1/top-up?key=&a=1", None, "/v1/top-up?a=1"),
            ("/v1/top-up?a=key&keys=1", None, "/v1/top-up?a=key&keys=1"),
            ("/v1/top-up", None, "/v1/top-up"),
        ] {
            let (found, now) = taken(address);
            assert_eq!(found.expect("it can be read").as_deref(), key, "{address}");
            assert_eq!(now, left, "{address}");
        }
        let (found, now) = taken("/v1?key=abc&a=1&key=abd");
        let problem = found.expect_err("it is given twice");
        assert!(!problem.detail.contains("ab"), "{}", problem.detail);
        assert_eq!(now, "/v1?a=1");
    }
}
