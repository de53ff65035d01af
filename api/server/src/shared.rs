//! What all requests share.

use crate::configuration::Configuration;
use crate::keys::Keys;
use crate::metrics::Metrics;
use crate::queue::Queue;
use crate::rates::Rates;
use crate::receive::Receiving;
#[cfg(feature = "otlp")]
use crate::spans::Spans;
use crate::tls::Tls;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use sumpwright_openapi::service::Services;

/// What all requests share.
pub struct Shared {
    pub(crate) services: Arc<Services>,
    pub(crate) queue: Queue,
    pub(crate) receiving: Receiving,
    pub(crate) keys: Option<Keys>,
    pub(crate) rates: Option<Rates>,
    pub(crate) tls: Option<Arc<Tls>>,
    pub(crate) metrics: Metrics,
    #[cfg(feature = "otlp")]
    pub(crate) spans: Option<Spans>,
    stopping: AtomicBool,
    /// Each request that has not been answered to its end holds one more of it.
    under_way: Arc<()>,
}

impl Shared {
    /// Makes ready what a configuration asks for; or says in a sentence what is
    /// wrong with it.
    pub fn of(services: Arc<Services>, configuration: &Configuration) -> Result<Self, String> {
        let tls = match (&configuration.tls_certificate, &configuration.tls_key) {
            (Some(chain), Some(key)) => Some(Arc::new(Tls::of(chain, key)?)),
            _ => None,
        };
        let metrics = Metrics::default();
        if let Some(tls) = &tls {
            metrics.expires(tls.not_after());
        }
        Ok(Self {
            services,
            queue: Queue::of(configuration),
            receiving: Receiving::of(configuration),
            keys: Keys::of(configuration)?,
            rates: Rates::of(configuration),
            tls,
            metrics,
            #[cfg(feature = "otlp")]
            spans: configuration.otlp_endpoint.as_deref().map(Spans::to).transpose()?,
            stopping: AtomicBool::new(false),
            under_way: Arc::new(()),
        })
    }

    /// Held by a request until it has been answered to its end.
    pub(crate) fn under_way(&self) -> Arc<()> {
        Arc::clone(&self.under_way)
    }

    /// How many requests have not been answered to their end.
    pub(crate) fn count_under_way(&self) -> usize {
        Arc::strong_count(&self.under_way) - 1
    }

    /// Says from now on that the service is about to stop.
    pub(crate) fn stop(&self) {
        self.stopping.store(true, Ordering::Relaxed);
    }

    /// Whether the service is about to stop.
    pub(crate) fn is_stopping(&self) -> bool {
        self.stopping.load(Ordering::Relaxed)
    }
}
