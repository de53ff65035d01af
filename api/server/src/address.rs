//! The address that the service listens at: as people write it, taken or not, and as a browser
//! opens it.

use serde::Deserializer;
use std::fmt;
use std::io::{self, ErrorKind};
use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr, TcpListener};

/// What a port without a machine before it belongs to.
const THIS_MACHINE: IpAddr = IpAddr::V4(Ipv4Addr::LOCALHOST);
/// So many ports after one that is taken are tried, to name a free one.
const PORTS_TRIED: u16 = 20;
/// Ports below this one are the system's own.
const FIRST_FREE_FOR_ALL: u16 = 1024;

/// Reads an address as people write it: `127.0.0.1:9000`, `localhost:9000`, `:9000`, `9000`.
pub(crate) fn parse(text: &str) -> Result<SocketAddr, String> {
    let text = text.trim();
    let of_this_machine = text.strip_prefix("localhost:").or_else(|| text.strip_prefix(':'));
    let port = of_this_machine.unwrap_or(text).parse().ok();
    port.map(|port| SocketAddr::new(THIS_MACHINE, port)).or_else(|| text.parse().ok()).ok_or_else(
        || {
            "it must be an IP address and a port, such as 127.0.0.1:9000 or [::1]:9000, or a port of \
             this machine alone, such as 9000"
                .to_owned()
        },
    )
}

/// The same in a file, where a port alone may be a number.
pub(crate) fn deserialize<'de, D: Deserializer<'de>>(from: D) -> Result<SocketAddr, D::Error> {
    struct Written;
    impl serde::de::Visitor<'_> for Written {
        type Value = SocketAddr;

        fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
            f.write_str("an IP address and a port, such as \"127.0.0.1:9000\"")
        }

        fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<SocketAddr, E> {
            parse(text).map_err(|wrong| E::custom(format!("{text:?} is no address; {wrong}")))
        }

        fn visit_i64<E: serde::de::Error>(self, port: i64) -> Result<SocketAddr, E> {
            self.visit_str(&port.to_string())
        }
    }
    from.deserialize_any(Written)
}

/// Listens at an address; or says in a sentence why that cannot be, and what can.
pub(crate) fn listen(address: SocketAddr) -> Result<TcpListener, String> {
    TcpListener::bind(address).map_err(|error| refused(address, &error))
}

fn refused(address: SocketAddr, error: &io::Error) -> String {
    let (ip, port) = (address.ip(), address.port());
    match error.kind() {
        ErrorKind::AddrInUse => {
            let free = (1..=PORTS_TRIED).filter_map(|further| port.checked_add(further));
            let free = free.map(|port| SocketAddr::new(ip, port));
            let other = free.into_iter().find(|other| TcpListener::bind(other).is_ok());
            let choose = other.map_or_else(
                || "Choose another port with --bind.".to_owned(),
                |other| format!("Choose another port: --bind {other}"),
            );
            format!("Something listens at {address} already, perhaps this service. {choose}")
        }
        ErrorKind::PermissionDenied if port < FIRST_FREE_FOR_ALL => format!(
            "Port {port} takes an administrator's rights, as all below {FIRST_FREE_FOR_ALL} do. \
             Choose a higher one: --bind {}",
            SocketAddr::new(ip, port + 8000)
        ),
        ErrorKind::AddrNotAvailable => format!(
            "This machine does not have the address {ip}. --bind 127.0.0.1:{port} serves this \
             machine alone, --bind 0.0.0.0:{port} others too."
        ),
        _ => format!("The service cannot listen at {address}: {error}."),
    }
}

/// The address under which this machine itself reaches what listens at `bound`.
pub(crate) fn from_here(bound: SocketAddr) -> SocketAddr {
    match bound.ip() {
        IpAddr::V4(ip) if ip.is_unspecified() => SocketAddr::new(THIS_MACHINE, bound.port()),
        IpAddr::V6(ip) if ip.is_unspecified() => {
            SocketAddr::new(Ipv6Addr::LOCALHOST.into(), bound.port())
        }
        _ => bound,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_address_is_read_as_people_write_it() {
        for (text, expected) in [
            ("127.0.0.1:9000", "127.0.0.1:9000"),
            ("localhost:9000", "127.0.0.1:9000"),
            (":9000", "127.0.0.1:9000"),
            ("9000", "127.0.0.1:9000"),
            (" 0.0.0.0:80 ", "0.0.0.0:80"),
            ("[::1]:9000", "[::1]:9000"),
        ] {
            assert_eq!(parse(text).map(|address| address.to_string()), Ok(expected.to_owned()));
        }
        for text in ["", "localhost", "127.0.0.1", "shop-pc:9000", "70000", "http://127.0.0.1:9000"]
        {
            let wrong = parse(text).expect_err(text);
            assert!(wrong.contains("such as 127.0.0.1:9000"), "{text}: {wrong}");
        }
    }

    #[test]
    fn a_port_that_is_taken_is_told_with_one_that_is_free() {
        let taken = TcpListener::bind("127.0.0.1:0").expect("a port");
        let address = taken.local_addr().expect("its address");
        let said = listen(address).expect_err("it is taken");
        let start = format!("Something listens at {address} already, perhaps this service.");
        assert!(said.starts_with(&start), "{said}");
        let (_, other) = said.split_once("--bind ").expect("another one");
        listen(other.parse().expect("an address")).expect("it is free");
    }

    #[test]
    fn why_an_address_cannot_be_served_is_said_with_what_can() {
        let refused = |address: &str, kind: ErrorKind| {
            refused(address.parse().expect("an address"), &kind.into())
        };
        let low = refused("127.0.0.1:80", ErrorKind::PermissionDenied);
        assert!(low.ends_with("--bind 127.0.0.1:8080"), "{low}");
        // 192.0.2.0/24 is for documentation (RFC 5737): no machine has one of it.
        let other = refused("192.0.2.7:9000", ErrorKind::AddrNotAvailable);
        assert!(other.contains("0.0.0.0:9000"), "{other}");
    }

    #[test]
    fn a_browser_on_this_machine_opens_an_address_that_it_can() {
        for (bound, expected) in [
            ("0.0.0.0:80", "127.0.0.1:80"),
            ("[::]:80", "[::1]:80"),
            ("192.0.2.7:80", "192.0.2.7:80"),
        ] {
            let here = from_here(bound.parse().expect("an address"));
            assert_eq!(here.to_string(), expected);
        }
    }
}
