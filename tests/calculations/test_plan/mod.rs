//! Which test is due where.

mod laws;
mod published;
mod refusals;
