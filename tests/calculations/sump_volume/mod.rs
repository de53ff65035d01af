//! How much is in a sump.

mod advice;
mod published;
mod refusals;
