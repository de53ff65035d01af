//! Observability: the log, traces, spans, metrics and the probes of a supervisor.
//!
//! **OTLP is a feature, on by default**; `--no-default-features` leaves its libraries out.

pub mod health;
pub mod logs;
pub mod metrics;
mod process;
#[cfg_attr(not(feature = "otlp"), path = "no_spans.rs")]
pub mod spans;
pub mod trace;
