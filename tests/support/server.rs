//! A real server on a free port of this machine, shared by the tests that
//! speak HTTP.

use reqwest::blocking::{Client, RequestBuilder, Response};
use serde_json::Value;
use std::net::TcpListener;
use std::num::NonZeroUsize;
use std::sync::{Arc, LazyLock};
use sumpwright_openapi::service::Services;
use sumpwright_server::configuration::Configuration;
use sumpwright_server::shared::Shared;

static ADDRESS: LazyLock<String> =
    LazyLock::new(|| start(Services::new(), Configuration::default()));

/// Starts a server of `services` that runs as long as the tests, and returns its address.
pub(crate) fn start(services: Services, configuration: Configuration) -> String {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a free port");
    let address = listener.local_addr().expect("its address");
    let configuration = Configuration { workers: NonZeroUsize::new(2), ..configuration };
    std::thread::spawn(move || {
        let shared = Shared::of(Arc::new(services), &configuration);
        let shared = shared.expect("it is valid");
        sumpwright_server::serve(listener, shared, &configuration).expect("the server runs");
    });
    format!("http://{address}")
}

static CLIENT: LazyLock<Client> = LazyLock::new(client);

/// A client with its own connections.
pub(crate) fn client() -> Client {
    // The first TLS provider installed stays; all callers here install the same one.
    let _ = rustls::crypto::ring::default_provider().install_default();
    Client::new()
}

/// The server's address.
pub(crate) fn address() -> &'static str {
    &ADDRESS
}

/// A request to the server.
pub(crate) fn request(method: &str, path: &str) -> RequestBuilder {
    let method = method.parse().expect("a method");
    CLIENT.request(method, format!("{}{path}", *ADDRESS))
}

/// The answer to a GET.
pub(crate) fn get(path: &str) -> Response {
    request("GET", path).send().expect("the server answers")
}

/// The answer to a POST of JSON.
pub(crate) fn post(path: &str, document: &Value) -> Response {
    request("POST", path).json(document).send().expect("the server answers")
}

/// A header of a response, or an empty text.
pub(crate) fn header<'a>(response: &'a Response, name: &str) -> &'a str {
    response.headers().get(name).map_or("", |value| value.to_str().unwrap_or_default())
}
