//! Blend: a batch made from stocks.

mod laws;
mod published;
mod refusals;
mod statement;
