//! A server, asked patiently: when it is too busy it is asked again, as late as
//! it says itself, and when nobody answers a few times more.

use crate::error::Error;
use reqwest::StatusCode;
use reqwest::blocking::{Client as Http, ClientBuilder};
use reqwest::header::{AUTHORIZATION, CONTENT_TYPE, HeaderMap, RETRY_AFTER};
use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::Duration;
use sumpwright_openapi::problem::Problem;
use sumpwright_openapi::table::TableOptions;

/// A server and how to ask it.
#[derive(Debug, Clone)]
pub struct Server {
    address: String,
    key: Option<String>,
    retries: u32,
    http: Http,
    say: fn(&str),
    /// Whether it has been said that the server is asked again.
    said: Arc<AtomicBool>,
}

/// What came back, read to its end.
struct Reply {
    status: StatusCode,
    headers: HeaderMap,
    body: Vec<u8>,
}

/// How long to wait where the server does not say: doubled each time, up to half
/// a minute.
const FIRST_WAIT: Duration = Duration::from_millis(250);
/// See [`FIRST_WAIT`].
const LONGEST_WAIT: Duration = Duration::from_secs(30);

impl Server {
    /// The server at `address`, asked with `key` where it wants one, and again up
    /// to `retries` times where it is too busy or nobody answers. Nothing is sent yet.
    ///
    /// ```
    /// use sumpwright_client::{Error, Server};
    ///
    /// assert!(Server::new("http://127.0.0.1:8787", None, 3).is_ok());
    /// assert!(matches!(Server::new("shop-pc:8787", None, 3), Err(Error::Address(_))));
    /// ```
    pub fn new(address: &str, key: Option<String>, retries: u32) -> Result<Self, Error> {
        // Whoever was first in this process has decided; it is the same for us.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let not_one = || Error::Address(address.to_owned());
        let url = reqwest::Url::parse(address.trim()).map_err(|_| not_one())?;
        if !["http", "https"].contains(&url.scheme()) || !url.has_host() {
            return Err(not_one());
        }
        // The paths of the calculations begin with /v1, and so do addresses that are copied from them.
        let address = address.trim().trim_end_matches('/');
        let address = address.strip_suffix("/v1").unwrap_or(address).to_owned();
        // A key that was read from a file has the end of its line.
        let key = key.map(|key| key.trim().to_owned());
        if key.iter().flat_map(|key| key.bytes()).any(|byte| !byte.is_ascii_graphic()) {
            return Err(Error::Key);
        }
        let http = builder(&address).timeout(Duration::from_mins(5)).build();
        let http = http.map_err(|error| Error::Transport(address.clone(), cause(&error)))?;
        Ok(Self { address, key, retries, http, say: |_| {}, said: Arc::default() })
    }

    /// The same, saying once when the server has to be asked again.
    #[must_use]
    pub fn saying(self, say: fn(&str)) -> Self {
        Self { say, ..self }
    }

    /// The body of the answer to a POST.
    pub(crate) fn post(
        &self,
        path: &str,
        kind: &str,
        prefer: Option<&'static str>,
        body: &[u8],
    ) -> Result<Vec<u8>, Error> {
        let mut tried = 0;
        loop {
            let replied = self.post_once(path, kind, prefer, body);
            let why = match &replied {
                Ok(reply) if reply.is_busy() => format!("The service at {} is busy.", self.address),
                Err(error @ (Error::NobodyAnswers(_) | Error::BrokenOff(_))) => error.to_string(),
                _ => return replied?.answer(),
            };
            if tried >= self.retries {
                return replied?.answer();
            }
            let left = (tried..self.retries).map(own_wait).sum::<Duration>().as_secs_f64();
            if !self.said.swap(true, Ordering::Relaxed) {
                let times = self.retries - tried;
                (self.say)(&format!("{why} Trying {times} more times, for about {left:.0} s."));
            }
            let said = replied.ok().and_then(|reply| reply.retry_after());
            std::thread::sleep(said.unwrap_or_else(|| own_wait(tried)));
            tried += 1;
        }
    }

    fn post_once(
        &self,
        path: &str,
        kind: &str,
        prefer: Option<&'static str>,
        body: &[u8],
    ) -> Result<Reply, Error> {
        let mut request = self.http.post(format!("{}{path}", self.address));
        if let Some(key) = &self.key {
            request = request.header(AUTHORIZATION, format!("Bearer {key}"));
        }
        if let Some(prefer) = prefer {
            request = request.header("prefer", prefer);
        }
        let failed = |error| self.failed(&error);
        let response =
            request.header(CONTENT_TYPE, kind).body(body.to_vec()).send().map_err(failed)?;
        let (status, headers) = (response.status(), response.headers().clone());
        Ok(Reply { status, headers, body: response.bytes().map_err(failed)?.to_vec() })
    }

    /// What it means that a request came to nothing.
    fn failed(&self, error: &reqwest::Error) -> Error {
        let address = self.address.clone();
        let refused = sources(error).any(|source| {
            source
                .downcast_ref::<io::Error>()
                .is_some_and(|error| error.kind() == io::ErrorKind::ConnectionRefused)
        });
        if refused {
            Error::NobodyAnswers(address)
        } else if error.is_timeout() || error.is_connect() || error.is_builder() {
            Error::Transport(address, cause(error))
        } else {
            Error::BrokenOff(address)
        }
    }

    pub(crate) fn post_table(
        &self,
        calculation: &str,
        table: &[u8],
        options: &TableOptions,
    ) -> Result<Vec<u8>, Error> {
        let mut address = reqwest::Url::parse(&format!("{}/v1/{calculation}", self.address))
            .map_err(|_| Error::Address(self.address.clone()))?;
        let TableOptions { everywhere, columns, latin, decimal_comma, headings_in_row } = options;
        {
            let mut query = address.query_pairs_mut();
            query.extend_pairs(everywhere);
            if let Some(columns) = columns {
                query.append_pair("columns", &columns.join(","));
            }
            if let Some(comma) = decimal_comma {
                query.append_pair("decimal", if *comma { "comma" } else { "point" });
            }
            if let Some(row) = headings_in_row {
                query.append_pair("headings_in_row", &row.to_string());
            }
        }
        let query = address.query().filter(|query| !query.is_empty());
        let query = query.map(|query| format!("?{query}")).unwrap_or_default();
        let charset = if *latin { "windows-1252" } else { "utf-8" };
        let kind = format!("text/csv; charset={charset}");
        self.post(&format!("/v1/{calculation}{query}"), &kind, None, table)
    }
}

impl Reply {
    /// Whether the server may do later what it cannot do now: it then says when.
    fn is_busy(&self) -> bool {
        let refused = [StatusCode::TOO_MANY_REQUESTS, StatusCode::SERVICE_UNAVAILABLE];
        refused.contains(&self.status) && self.headers.contains_key(RETRY_AFTER)
    }

    /// How long the server says to wait.
    fn retry_after(&self) -> Option<Duration> {
        let seconds = self.headers.get(RETRY_AFTER)?.to_str().ok()?.trim().parse().ok()?;
        Some(Duration::from_secs(seconds))
    }

    /// The answer, or the problem that there is instead.
    fn answer(self) -> Result<Vec<u8>, Error> {
        if self.status.is_success() {
            return Ok(self.body);
        }
        match serde_json::from_slice::<Problem>(&self.body) {
            Ok(problem) => Err(problem.into()),
            Err(_) => Err(Error::NotAnAnswer(format!("its status is {}", self.status))),
        }
    }
}

/// A client that reads which certificates this machine trusts only for https: a machine may
/// have none at all.
fn builder(address: &str) -> ClientBuilder {
    let is_plain = address.starts_with("http://");
    if is_plain { Http::builder().tls_certs_only([]) } else { Http::builder() }
}

/// How long to wait where the server does not say.
fn own_wait(tried: u32) -> Duration {
    FIRST_WAIT.saturating_mul(2_u32.saturating_pow(tried)).min(LONGEST_WAIT)
}

/// An error and all that it goes back to.
fn sources<'e>(
    error: &'e (dyn std::error::Error + 'static),
) -> impl Iterator<Item = &'e (dyn std::error::Error + 'static)> {
    std::iter::successors(Some(error), |error| error.source())
}

/// What an error goes back to.
fn cause(error: &reqwest::Error) -> String {
    sources(error).last().map_or_else(String::new, ToString::to_string)
}
