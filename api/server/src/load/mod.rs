//! Keeps slow callers and long calculations from holding up the others.

pub mod queue;
pub mod receive;
mod shares;
