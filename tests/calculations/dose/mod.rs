//! Doses: what goes into a sump within its label, and what is left of it.

mod advice;
mod published;
mod refusals;
