//! The state that all requests share.

use crate::access::keys::Keys;
use crate::access::rates::RateLimits;
use crate::access::tls::Tls;
use crate::configuration::Configuration;
use crate::load::queue::Queue;
use crate::load::receive::Receiving;
use crate::observability::metrics::Metrics;
use crate::observability::spans::Spans;
use crate::operator_page::engine::Engine;
use std::net::IpAddr;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use sumpwright_openapi::service::Services;

/// The state that all requests share.
pub struct Shared {
    pub(crate) services: Arc<Services>,
    pub(crate) queue: Queue,
    pub(crate) receiving: Receiving,
    pub(crate) keys: Option<Keys>,
    pub(crate) rates: Option<RateLimits>,
    /// The proxies whose word for a caller's address is taken.
    pub(crate) trusted_proxies: Vec<IpAddr>,
    pub(crate) tls: Option<Arc<Tls>>,
    pub(crate) engine: Option<Engine>,
    pub(crate) metrics: Metrics,
    pub(crate) spans: Spans,
    stopping: AtomicBool,
    /// Each request that is not completely answered holds one more reference.
    under_way: Arc<()>,
}

impl Shared {
    /// Prepares the state for a configuration; an error is a sentence for the
    /// operator.
    pub fn of(services: Arc<Services>, configuration: &Configuration) -> Result<Self, String> {
        let tls = match (&configuration.tls_certificate, &configuration.tls_key) {
            (Some(chain), Some(key)) => Some(Arc::new(Tls::of(chain, key)?)),
            _ => None,
        };
        let metrics = Metrics::new(tls.is_some(), configuration.has_keys());
        if let Some(tls) = &tls {
            metrics.expires(tls.not_after());
        }
        Ok(Self {
            keys: Keys::of(configuration, &services)?,
            services,
            queue: Queue::of(configuration),
            receiving: Receiving::of(configuration),
            rates: RateLimits::of(configuration),
            trusted_proxies: configuration.trusted_proxies.clone(),
            tls,
            engine: Engine::of(configuration)?,
            metrics,
            spans: Spans::of(configuration.otlp_endpoint.as_deref())?,
            stopping: AtomicBool::new(false),
            under_way: Arc::new(()),
        })
    }

    /// Held by a request until it is completely answered.
    pub(crate) fn under_way(&self) -> Arc<()> {
        Arc::clone(&self.under_way)
    }

    /// Number of requests that are not completely answered.
    pub(crate) fn count_under_way(&self) -> usize {
        Arc::strong_count(&self.under_way) - 1
    }

    /// Marks the service as about to stop.
    pub(crate) fn stop(&self) {
        self.stopping.store(true, Ordering::Relaxed);
    }

    /// Whether the service is about to stop.
    pub(crate) fn is_stopping(&self) -> bool {
        self.stopping.load(Ordering::Relaxed)
    }
}
