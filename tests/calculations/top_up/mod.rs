//! A sump brought back to its strength.

mod advice;
mod published;
