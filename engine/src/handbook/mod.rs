//! Published figures, each with its source.

pub mod sucrose;
pub mod water;
