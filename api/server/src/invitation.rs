//! What a person reads who starts the service in a terminal: the page's address first, then what
//! to do with it.

use crate::address::from_here;
use crate::configuration::Configuration;
use serde_json::Value;
use std::fmt::Write as _;
use std::net::SocketAddr;
use sumpwright_engine::VERSION;
use sumpwright_openapi::envelope::{REFERENCE, STATEMENT};
use sumpwright_openapi::flat::{flatten, leaf_text};
use sumpwright_openapi::service::{Service, Services};

/// The calculation that is shown.
const SHOWN: &str = "top-up";

/// The words for a service that listens at `bound`.
pub(crate) fn invitation(
    services: &Services,
    configuration: &Configuration,
    bound: SocketAddr,
) -> String {
    let scheme = if configuration.tls_certificate.is_some() { "https" } else { "http" };
    let here = format!("{scheme}://{}", from_here(bound));
    let mut text = format!("Open {here}/ in a browser: the page for the shop.\n\n");
    let _ = writeln!(text, "Sumpwright {VERSION} serves {scheme}://{bound}");
    if bound.ip().is_loopback() {
        let port = bound.port();
        let _ = writeln!(
            text,
            "Only this machine reaches it. Others: --bind 0.0.0.0:{port} and a key; see --help."
        );
    }
    let _ = writeln!(text, "Calculations: {here}/v1   Documentation: {here}/docs/");
    if let Some(service) = services.get(SHOWN) {
        text += &requests(service, &here, configuration.has_keys());
    }
    text += "Press Ctrl+C to stop it. Its log follows here, one line per request.\n";
    text
}

/// Requests that can be pasted: for a browser, unless that would need a key, and for a terminal.
fn requests(service: &Service, here: &str, needs_key: bool) -> String {
    let Ok(example) = serde_json::from_str::<Value>(service.example) else { return String::new() };
    let address = format!("{here}/v1/{}", service.name);
    let mut text = String::new();
    if !needs_key {
        let mut query = form_urlencoded::Serializer::new(String::new());
        for (path, leaf) in flatten(&example) {
            if path != REFERENCE {
                query.append_pair(&path, &leaf_text(leaf));
            }
        }
        let query = query.append_pair("pick", STATEMENT).finish();
        let _ = writeln!(text, "\nA question that a browser can open:\n\n{address}?{query}");
    }
    let key = if needs_key { " -H 'authorization: Bearer KEY'" } else { "" };
    let _ = writeln!(
        text,
        "\nThe same in a terminal (Linux, macOS), with the whole answer:\n\ncurl -s {address}{key} -H 'content-type: \
         application/json' -d '{example}'\n"
    );
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::LazyLock;

    static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

    fn invited(configuration: &Configuration, bound: &str) -> String {
        invitation(&SERVICES, configuration, bound.parse().expect("an address"))
    }

    #[test]
    fn the_address_of_the_page_comes_first() {
        let keyed = Configuration { keys: Some("keys".into()), ..Configuration::default() };
        for (configuration, bound, first) in [
            (&Configuration::default(), "127.0.0.1:9000", "Open http://127.0.0.1:9000/ in a"),
            (&keyed, "0.0.0.0:9000", "Open http://127.0.0.1:9000/ in a"),
        ] {
            let text = invited(configuration, bound);
            assert!(text.starts_with(first), "{text}");
            let serves = format!("serves http://{bound}");
            assert!(text.lines().any(|line| line.ends_with(&serves)), "{text}");
            assert!(text.contains("Ctrl+C"), "{text}");
        }
    }

    #[test]
    fn a_question_for_a_browser_is_answered() {
        let text = invited(&Configuration::default(), "127.0.0.1:9000");
        let address = text.lines().find(|line| line.contains("/v1/top-up?")).expect("a question");
        let (_, query) = address.split_once('?').expect("a query");
        let pairs: Vec<_> = form_urlencoded::parse(query.as_bytes()).collect();
        let question = pairs.iter().map(|(path, text)| (&**path, &**text));
        let (asked, picked): (Vec<_>, Vec<_>) = question.partition(|(path, _)| *path != "pick");
        assert_eq!(picked, [("pick", STATEMENT)]);
        let answer =
            SERVICES.get(SHOWN).expect("it is there").answer_flat(asked).expect("an answer");
        assert!(answer[STATEMENT].as_str().is_some_and(|statement| statement.contains("6.2 L")));
    }

    #[test]
    fn a_service_with_keys_says_where_the_key_goes() {
        let keyed = Configuration { keys: Some("keys".into()), ..Configuration::default() };
        let text = invited(&keyed, "127.0.0.1:9000");
        assert!(text.contains("authorization: Bearer KEY"), "{text}");
        assert!(!text.contains("/v1/top-up?"), "a browser cannot send a key: {text}");
    }
}
