//! A server over HTTP: when it is too busy it is asked again, after the time that it
//! names.

use crate::error::Error;
use reqwest::StatusCode;
use reqwest::blocking::{Client as Http, Response};
use reqwest::header::{AUTHORIZATION, CONTENT_TYPE, RETRY_AFTER};
use std::time::Duration;
use sumpwright_openapi::problem::Problem;

/// A server, with its key and its number of retries.
#[derive(Debug, Clone)]
pub struct Server {
    address: String,
    key: Option<String>,
    retries: u32,
    http: Http,
}

/// The first wait if the server does not name one; it doubles each time, up to half
/// a minute.
const FIRST_WAIT: Duration = Duration::from_millis(250);
/// See [`FIRST_WAIT`].
const LONGEST_WAIT: Duration = Duration::from_secs(30);

impl Server {
    /// The server at `address`, asked with `key` if it needs one, and again up
    /// to `retries` times if it is too busy.
    pub fn new(address: &str, key: Option<String>, retries: u32) -> Result<Self, Error> {
        // The first TLS provider installed in this process stays; either will do.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let http = Http::builder().timeout(Duration::from_mins(5)).build()?;
        let address = address.trim_end_matches('/').to_owned();
        Ok(Self { address, key, retries, http })
    }

    /// The body of the answer to a POST.
    pub(crate) fn post(&self, path: &str, kind: &str, body: &[u8]) -> Result<Vec<u8>, Error> {
        let mut tried = 0;
        loop {
            let mut request = self.http.post(format!("{}{path}", self.address));
            if let Some(key) = &self.key {
                request = request.header(AUTHORIZATION, format!("Bearer {key}"));
            }
            let sent = request.header(CONTENT_TYPE, kind).body(body.to_vec()).send();
            let again = match &sent {
                Ok(response) => is_busy(response),
                Err(error) => error.is_connect(),
            };
            if !again || tried >= self.retries {
                return read(sent?);
            }
            std::thread::sleep(wait(sent.as_ref().ok(), tried));
            tried += 1;
        }
    }

    pub(crate) fn post_table(
        &self,
        calculation: &str,
        table: &[u8],
        everywhere: &[(String, String)],
    ) -> Result<Vec<u8>, Error> {
        let mut address = reqwest::Url::parse(&format!("{}/v1/{calculation}", self.address))
            .map_err(|error| Error::NotAnAnswer(error.to_string()))?;
        if !everywhere.is_empty() {
            address.query_pairs_mut().extend_pairs(everywhere);
        }
        let query = address.query().map(|query| format!("?{query}")).unwrap_or_default();
        self.post(&format!("/v1/{calculation}{query}"), "text/csv; charset=utf-8", table)
    }
}

/// Whether to ask again later: the server then says when.
fn is_busy(response: &Response) -> bool {
    let refused = [StatusCode::TOO_MANY_REQUESTS, StatusCode::SERVICE_UNAVAILABLE];
    refused.contains(&response.status()) && response.headers().contains_key(RETRY_AFTER)
}

/// The wait before the next try, as the server says.
fn wait(response: Option<&Response>, tried: u32) -> Duration {
    let said = response.and_then(|response| response.headers().get(RETRY_AFTER));
    let said = said.and_then(|seconds| seconds.to_str().ok()?.trim().parse::<u64>().ok());
    let own = FIRST_WAIT.saturating_mul(2_u32.saturating_pow(tried)).min(LONGEST_WAIT);
    said.map_or(own, Duration::from_secs)
}

fn read(response: Response) -> Result<Vec<u8>, Error> {
    let status = response.status();
    let body = response.bytes()?;
    if status.is_success() {
        return Ok(body.to_vec());
    }
    match serde_json::from_slice::<Problem>(&body) {
        Ok(problem) => Err(problem.into()),
        Err(_) => Err(Error::NotAnAnswer(format!("status {status}"))),
    }
}
