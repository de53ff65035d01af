//! Who a request is from, where a caller's share and rate are counted: by key, else by address.
//!
//! Behind a proxy every request comes from the proxy. Its header is believed where the configuration names the
//! proxy, and nowhere else: anybody can write one. Of the addresses in it, which each proxy adds at the
//! end, the last that is no proxy of ours is the caller's.

use actix_web::http::header::{HeaderMap, HeaderName};
use std::net::IpAddr;
use std::sync::Arc;

const FORWARDED_FOR: HeaderName = HeaderName::from_static("x-forwarded-for");
/// What the name of a caller begins with who has no key; the name of a key cannot.
const BY_ADDRESS: char = '@';

/// The name that a caller without a key is counted by.
pub(crate) fn by_address(
    peer: Option<IpAddr>,
    headers: &HeaderMap,
    proxies: &[IpAddr],
) -> Arc<str> {
    match peer.map(|peer| address(peer, headers, proxies)) {
        Some(address) => format!("{BY_ADDRESS}{address}").into(),
        None => String::from(BY_ADDRESS).into(),
    }
}

/// Whether a caller is known by a key.
pub(crate) fn has_key(caller: &str) -> bool {
    !caller.starts_with(BY_ADDRESS)
}

fn address(peer: IpAddr, headers: &HeaderMap, proxies: &[IpAddr]) -> IpAddr {
    let is_proxy = |address: &IpAddr| proxies.contains(&address.to_canonical());
    if !is_proxy(&peer) {
        return peer.to_canonical();
    }
    let said: Vec<&str> =
        headers.get_all(FORWARDED_FOR).filter_map(|said| said.to_str().ok()).collect();
    let mut last = peer;
    for text in said.iter().flat_map(|said| said.split(',')).collect::<Vec<_>>().into_iter().rev() {
        // What cannot be read was not written by a proxy of ours.
        let Ok(address) = text.trim().parse::<IpAddr>() else { break };
        last = address.to_canonical();
        if !is_proxy(&address) {
            break;
        }
    }
    last
}

#[cfg(test)]
mod tests {
    use super::*;
    use actix_web::http::header::HeaderValue;

    #[test]
    fn a_header_counts_only_where_the_proxy_is_ours() {
        let proxies: Vec<IpAddr> =
            ["10.0.0.1", "10.0.0.2"].map(|ip| ip.parse().expect("it")).into();
        for (peer, said, expected) in [
            ("192.0.2.7", "198.51.100.1", "@192.0.2.7"),
            ("10.0.0.1", "198.51.100.1", "@198.51.100.1"),
            ("10.0.0.1", "203.0.113.9, 198.51.100.1, 10.0.0.2", "@198.51.100.1"),
            ("10.0.0.1", "198.51.100.1, not an address", "@10.0.0.1"),
            ("10.0.0.1", "", "@10.0.0.1"),
            ("::ffff:10.0.0.1", "2001:db8::1", "@2001:db8::1"),
            ("::ffff:192.0.2.7", "", "@192.0.2.7"),
        ] {
            let mut headers = HeaderMap::new();
            headers.insert(FORWARDED_FOR, HeaderValue::from_static(said));
            let peer = peer.parse().expect("an address");
            assert_eq!(&*by_address(Some(peer), &headers, &proxies), expected, "{peer} {said}");
        }
        assert!(has_key("mes") && !has_key("@10.0.0.1"));
    }
}
