//! Forecast: a sump over time.

mod calendar;
mod laws;
mod published;
mod refusals;
mod sheet;
mod simulated;
