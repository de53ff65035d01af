//! Published figures, each with its source.

pub mod conversions;
pub mod evaporation;
pub mod oil_separator;
pub mod sphere;
pub mod sucrose;
pub mod water;
