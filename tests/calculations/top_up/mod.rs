//! Top-up: a sump brought back to its level and concentration.

mod advice;
mod laws;
mod picture;
mod published;
mod refusals;
mod statement;
