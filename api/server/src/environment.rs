//! The variables of the environment that are this program's, by their names.
//!
//! A setting that is misspelt there must not be taken for one that was not given, as in a file. An orchestrator
//! writes variables of the same beginning for every service that is called so; those say nothing to the service.

use crate::configuration::names;
use std::ffi::OsStr;
use sumpwright_engine::text::text_with_nearest;

/// What all of them begin with.
const PREFIX: &str = "SUMPWRIGHT_";
/// Names beside those of the settings: the file of them, what the client goes by, and what the program was built from.
const OTHERS: [&str; 4] = ["configuration", "key", "server", "commit"];

/// Whether a variable is as good as not given: blank, as a file of variables leaves it.
pub(crate) fn is_blank(name: &OsStr) -> bool {
    std::env::var_os(name).is_some_and(|value| value.is_empty())
}

/// Refuses a variable that looks like a setting and is none.
pub(crate) fn check() -> Result<(), String> {
    let known = names();
    for (name, value) in std::env::vars_os() {
        let Some(name) = name.to_str() else { continue };
        let Some(rest) = name.strip_prefix(PREFIX) else { continue };
        let setting = rest.to_ascii_lowercase();
        let is_known = known.contains(&setting) || OTHERS.contains(&setting.as_str());
        if !is_known && !is_of_an_orchestrator(rest, &value.to_string_lossy()) {
            let spelt: Vec<String> = known
                .iter()
                .map(|known| format!("{PREFIX}{}", known.to_ascii_uppercase()))
                .collect();
            let detail = format!("There is no setting {name} (in the environment).");
            return Err(text_with_nearest(detail, name, spelt.iter().map(String::as_str)));
        }
    }
    Ok(())
}

/// Whether it is one of those by which Kubernetes tells every pod of a service.
fn is_of_an_orchestrator(rest: &str, value: &str) -> bool {
    let of_a_port = rest.split_once("PORT_").is_some_and(|(_, port)| {
        port.starts_with(|c: char| c.is_ascii_digit())
            && (port.contains("TCP") || port.contains("UDP"))
    });
    let is_address = ["tcp://", "udp://"].iter().any(|scheme| value.starts_with(scheme));
    rest.ends_with("SERVICE_HOST") || rest.contains("SERVICE_PORT") || of_a_port || is_address
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_an_orchestrator_writes_is_left_alone() {
        for (rest, value) in [
            ("SERVICE_HOST", "10.0.0.1"),
            ("SERVICE_PORT", "8787"),
            ("SERVICE_PORT_HTTP", "8787"),
            ("PORT", "tcp://10.0.0.1:8787"),
            ("PORT_8787_TCP", "tcp://10.0.0.1:8787"),
            ("PORT_8787_TCP_PROTO", "tcp"),
            ("PORT_8787_TCP_ADDR", "10.0.0.1"),
            ("CANARY_SERVICE_HOST", "10.0.0.1"),
        ] {
            assert!(is_of_an_orchestrator(rest, value), "{rest}");
        }
        for (rest, value) in [("PORT", "9000"), ("WAITNG", "6"), ("BIND_PORT", "9000")] {
            assert!(!is_of_an_orchestrator(rest, value), "{rest}");
        }
    }
}
