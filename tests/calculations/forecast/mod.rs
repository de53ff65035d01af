//! Forecast: a sump over time.

mod laws;
mod published;
mod refusals;
mod sheet;
mod simulated;
