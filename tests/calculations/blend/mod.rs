//! A batch made of stocks.

mod laws;
mod published;
mod refusals;
