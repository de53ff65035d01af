//! What can be followed: the log, traces, spans, metrics, and what a supervisor asks.

pub mod health;
pub mod logs;
pub mod metrics;
#[cfg_attr(not(feature = "otlp"), path = "no_spans.rs")]
pub mod spans;
pub mod trace;
