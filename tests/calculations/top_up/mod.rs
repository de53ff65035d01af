//! A sump brought back to its strength.

mod advice;
mod laws;
mod published;
mod refusals;
