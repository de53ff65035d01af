//! Make-up: what to feed so that a sump stays as it is.

pub(super) mod laws;
mod published;
mod refusals;
mod remedies;
