//! What keeps a sump as it is.

pub(super) mod laws;
mod published;
mod refusals;
mod remedies;
