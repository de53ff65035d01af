//! A sump over time.

mod laws;
mod published;
mod refusals;
mod simulated;
