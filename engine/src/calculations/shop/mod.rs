//! The whole shop: rounds of clean-outs, a year of waste and what the ways of working cost.

pub mod cost_comparison;
pub mod disposal;
pub mod recharge;
