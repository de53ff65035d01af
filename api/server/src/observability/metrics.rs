//! The metrics of the service, for Prometheus.

use crate::load::queue::Queue;
use prometheus_client::encoding::text::encode;
use prometheus_client::encoding::{EncodeLabelSet, EncodeLabelValue, LabelValueEncoder};
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::metrics::histogram::Histogram;
use prometheus_client::registry::{Registry, Unit};
use std::fmt::{self, Write};
use std::time::Duration;
use sumpwright_openapi::problem::ProblemKind;

/// The media type of metrics for clients that accept it.
pub const OPEN_METRICS: &str = "application/openmetrics-text; version=1.0.0; charset=utf-8";
/// The media type for others: the older format of Prometheus, whose readers accept the same text.
pub const PLAIN: &str = "text/plain; version=0.0.4; charset=utf-8";

/// The upper bounds of the histogram's buckets, in seconds: from a quick answer to
/// the default time limit.
const CLASSES: [f64; 12] =
    [1e-4, 2.5e-4, 5e-4, 1e-3, 2.5e-3, 1e-2, 2.5e-2, 0.1, 0.25, 1.0, 5.0, 30.0];

/// The outcome of a request.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum RequestOutcome {
    /// The request was answered.
    Answered,
    /// The request got a problem.
    Problem(ProblemKind),
}

impl RequestOutcome {
    /// The outcome as a label.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Answered => "answered",
            Self::Problem(kind) => kind.row().slug,
        }
    }
}

impl EncodeLabelValue for RequestOutcome {
    fn encode(&self, encoder: &mut LabelValueEncoder<'_>) -> Result<(), fmt::Error> {
        encoder.write_str(self.word())
    }
}

#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
struct ByOutcome {
    calculation: &'static str,
    outcome: RequestOutcome,
}

#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
struct ByCalculation {
    calculation: &'static str,
}

/// The metrics.
pub struct Metrics {
    registry: Registry,
    requests: Family<ByOutcome, Counter>,
    seconds: Family<ByCalculation, Histogram, fn() -> Histogram>,
    answering: Gauge,
    waiting: Gauge,
    runs_on: Gauge,
    expires: Gauge,
}

impl Default for Metrics {
    fn default() -> Self {
        let mut registry = Registry::with_prefix("sumpwright");
        let requests = Family::default();
        registry.register("requests", "Requests, by calculation and outcome", requests.clone());
        let seconds: Family<_, _, fn() -> Histogram> =
            Family::new_with_constructor(|| Histogram::new(CLASSES));
        registry.register_with_unit(
            "request_duration",
            "Time from the head of a request to the head of its answer, by calculation",
            Unit::Seconds,
            seconds.clone(),
        );
        let [answering, waiting, runs_on, expires] = [(); 4].map(|()| Gauge::default());
        registry.register("queue_answering", "Long calculations being answered", answering.clone());
        registry.register(
            "queue_waiting",
            "Long calculations waiting in the queue",
            waiting.clone(),
        );
        registry.register(
            "queue_running_on",
            "Calculations that were cut off and still hold their slot",
            runs_on.clone(),
        );
        registry.register_with_unit(
            "certificate_not_after",
            "Expiry of the TLS certificate, in Unix time; 0 without a certificate",
            Unit::Seconds,
            expires.clone(),
        );
        Self { registry, requests, seconds, answering, waiting, runs_on, expires }
    }
}

impl Metrics {
    /// Counts a request, of a calculation or of another address.
    pub fn count(
        &self,
        calculation: Option<&'static str>,
        outcome: RequestOutcome,
        took: Duration,
    ) {
        let calculation = calculation.unwrap_or("none");
        self.requests.get_or_create(&ByOutcome { calculation, outcome }).inc();
        self.seconds.get_or_create(&ByCalculation { calculation }).observe(took.as_secs_f64());
    }

    /// Records when the certificate in use expires, in Unix time.
    pub fn expires(&self, not_after: i64) {
        self.expires.set(not_after);
    }

    /// All metrics as text.
    #[must_use]
    pub fn text(&self, queue: &Queue) -> String {
        let gauge = |gauge: &Gauge, number| gauge.set(i64::try_from(number).unwrap_or(i64::MAX));
        let (answering, waiting) = queue.load();
        gauge(&self.answering, answering);
        gauge(&self.waiting, waiting);
        gauge(&self.runs_on, queue.runs_on());
        let mut text = String::new();
        if let Err(error) = encode(&mut text, &self.registry) {
            tracing::error!(%error, "the metrics could not be written");
        }
        text
    }
}
