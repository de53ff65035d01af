//! Forecast: a sump over time.

mod calendar;
mod laws;
mod published;
mod refusals;
mod simulated;
