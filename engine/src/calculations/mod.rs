//! What the service answers, by family, a folder each.

pub mod recycling;
pub mod shop;
pub mod sump;
