//! Make-up: what to feed so that a sump does not change.

mod calendar;
pub(super) mod laws;
mod oil;
mod published;
mod refusals;
mod remedies;
