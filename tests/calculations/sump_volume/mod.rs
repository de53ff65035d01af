//! Sump volume: from its shape or from a dilution.

mod advice;
mod published;
mod refusals;
mod statement;
