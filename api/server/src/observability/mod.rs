//! What can be followed: the log, traces, spans, metrics, and what a supervisor asks.
//!
//! **OTLP is a feature, on by default**; `--no-default-features` leaves its libraries out.

pub mod health;
pub mod logs;
pub mod metrics;
#[cfg_attr(not(feature = "otlp"), path = "no_spans.rs")]
pub mod spans;
pub mod trace;
