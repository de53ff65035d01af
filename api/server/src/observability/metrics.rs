//! The metrics of the service, for Prometheus.

use super::process::Process;
use crate::access::keys::Keys;
use crate::load::queue::Queue;
use prometheus_client::encoding::text::encode;
use prometheus_client::encoding::{EncodeLabelSet, EncodeLabelValue, LabelValueEncoder};
use prometheus_client::metrics::counter::Counter;
use prometheus_client::metrics::family::Family;
use prometheus_client::metrics::gauge::Gauge;
use prometheus_client::metrics::histogram::Histogram;
use prometheus_client::registry::{Registry, Unit};
use std::collections::BTreeSet;
use std::fmt::{self, Write};
use std::time::Duration;
use sumpwright_engine::VERSION;
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

#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
struct ByReload {
    of: Reload,
    outcome: &'static str,
}

/// What is read again while the service runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Reload {
    /// The keys.
    Keys,
    /// The certificate.
    Certificate,
}

impl EncodeLabelValue for Reload {
    fn encode(&self, encoder: &mut LabelValueEncoder<'_>) -> Result<(), fmt::Error> {
        encoder.write_str(match self {
            Self::Keys => "keys",
            Self::Certificate => "certificate",
        })
    }
}

#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
struct ByCaller {
    caller: String,
}

#[derive(Debug, Clone, PartialEq, Eq, Hash, EncodeLabelSet)]
struct Build {
    version: &'static str,
    commit: &'static str,
}

/// The metrics.
pub struct Metrics {
    registry: Registry,
    requests: Family<ByOutcome, Counter>,
    seconds: Family<ByCalculation, Histogram, fn() -> Histogram>,
    callers: Family<ByCaller, Counter>,
    answering_by: Family<ByCaller, Gauge>,
    waiting_by: Family<ByCaller, Gauge>,
    reloads: Family<ByReload, Counter>,
    keys: Gauge,
    answering: Gauge,
    waiting: Gauge,
    runs_on: Gauge,
    expires: Gauge,
}

impl Metrics {
    /// Metrics of nothing yet; of the certificate and of keys only where there are any.
    #[must_use]
    pub fn new(has_certificate: bool, has_keys: bool) -> Self {
        let mut registry = Registry::default();
        registry.register_collector(Box::new(Process));
        let own = registry.sub_registry_with_prefix("sumpwright");
        let build = Family::<Build, Gauge>::default();
        let commit = crate::COMMIT.unwrap_or("unknown");
        build.get_or_create(&Build { version: VERSION, commit }).set(1);
        own.register("build_info", "Version and commit of this program; always 1", build);
        let requests = Family::default();
        own.register("requests", "Requests, by calculation and outcome", requests.clone());
        let seconds: Family<_, _, fn() -> Histogram> =
            Family::new_with_constructor(|| Histogram::new(CLASSES));
        own.register_with_unit(
            "request_duration",
            "Time from the head of a request to the head of its answer, by calculation",
            Unit::Seconds,
            seconds.clone(),
        );
        let [answering, waiting, runs_on, expires, keys] = [(); 5].map(|()| Gauge::default());
        own.register("queue_answering", "Long calculations being answered", answering.clone());
        own.register("queue_waiting", "Long calculations waiting in the queue", waiting.clone());
        own.register(
            "queue_running_on",
            "Calculations that were cut off and still hold their slot",
            runs_on.clone(),
        );
        let (callers, reloads) = (Family::default(), Family::default());
        let [answering_by, waiting_by] = [(); 2].map(|()| Family::default());
        if has_keys {
            own.register("keys", "Keys in force", keys.clone());
            own.register("caller_requests", "Requests, by the name of the key", callers.clone());
            own.register(
                "caller_answering",
                "Long calculations being answered, by the name of the key",
                answering_by.clone(),
            );
            own.register(
                "caller_waiting",
                "Long calculations waiting, by the name of the key",
                waiting_by.clone(),
            );
        }
        if has_keys || has_certificate {
            own.register(
                "reloads",
                "How often keys or certificate were read again, and whether all was right",
                reloads.clone(),
            );
        }
        if has_certificate {
            own.register_with_unit(
                "certificate_not_after",
                "Expiry of the TLS certificate, in Unix time",
                Unit::Seconds,
                expires.clone(),
            );
        }
        Self {
            registry,
            requests,
            seconds,
            callers,
            answering_by,
            waiting_by,
            reloads,
            keys,
            answering,
            waiting,
            runs_on,
            expires,
        }
    }

    /// Counts a request, of a calculation or of another address, and of a caller who is known by a key.
    pub fn count(
        &self,
        calculation: Option<&'static str>,
        outcome: RequestOutcome,
        took: Duration,
        caller: Option<&str>,
    ) {
        let calculation = calculation.unwrap_or("none");
        self.requests.get_or_create(&ByOutcome { calculation, outcome }).inc();
        self.seconds.get_or_create(&ByCalculation { calculation }).observe(took.as_secs_f64());
        if let Some(caller) = caller {
            self.callers.get_or_create(&ByCaller { caller: caller.to_owned() }).inc();
        }
    }

    /// Records when the certificate in use expires, in Unix time.
    pub fn expires(&self, not_after: i64) {
        self.expires.set(not_after);
    }

    /// Records that something was read again, and whether all of it was right.
    pub fn reloaded(&self, of: Reload, all_right: bool) {
        let outcome = if all_right { "done" } else { "failed" };
        self.reloads.get_or_create(&ByReload { of, outcome }).inc();
    }

    /// All metrics as text: as OpenMetrics, or in the older format, in which a counter is declared by the name
    /// of its samples.
    #[must_use]
    pub fn text(&self, queue: &Queue, keys: Option<&Keys>, open_metrics: bool) -> String {
        let gauge = |gauge: &Gauge, number| gauge.set(i64::try_from(number).unwrap_or(i64::MAX));
        let (answering, waiting) = queue.load();
        gauge(&self.answering, answering);
        gauge(&self.waiting, waiting);
        gauge(&self.runs_on, queue.runs_on());
        if let Some(keys) = keys {
            gauge(&self.keys, keys.count());
            // Who asks nothing any more holds nothing.
            self.answering_by.clear();
            self.waiting_by.clear();
            for (caller, answering, waiting) in queue.callers() {
                let by = ByCaller { caller: caller.to_string() };
                gauge(&self.answering_by.get_or_create(&by), answering);
                gauge(&self.waiting_by.get_or_create(&by), waiting);
            }
        }
        let mut text = String::new();
        if let Err(error) = encode(&mut text, &self.registry) {
            tracing::error!(%error, "the metrics could not be written");
        }
        if open_metrics { text } else { in_older_format(&text) }
    }
}

/// Names each counter in its declaration as in its samples.
fn in_older_format(text: &str) -> String {
    let counters: BTreeSet<&str> = text
        .lines()
        .filter_map(|line| line.strip_prefix("# TYPE ")?.strip_suffix(" counter"))
        .collect();
    let mut older = String::with_capacity(text.len() + 16 * counters.len());
    for line in text.lines() {
        let mut words = line.splitn(4, ' ');
        let declared = match (words.next(), words.next(), words.next()) {
            (Some("#"), Some(word), Some(name)) if counters.contains(name) => Some((word, name)),
            _ => None,
        };
        match declared {
            Some((word, name)) => {
                let rest = words.next().unwrap_or_default();
                let _ = writeln!(older, "# {word} {name}_total {rest}");
            }
            None => {
                older.push_str(line);
                older.push('\n');
            }
        }
    }
    older
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_older_format_declares_a_counter_by_its_samples() {
        let open = "# HELP a_requests Requests.\n# TYPE a_requests counter\n\
                    a_requests_total{b=\"c d e\"} 2\n# TYPE a_queue gauge\na_queue 1\n# EOF\n";
        let older = "# HELP a_requests_total Requests.\n# TYPE a_requests_total counter\n\
                     a_requests_total{b=\"c d e\"} 2\n# TYPE a_queue gauge\na_queue 1\n# EOF\n";
        assert_eq!(in_older_format(open), older);
    }
}
