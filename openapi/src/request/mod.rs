//! A request: its envelope, its document read and checked against the published
//! schema, and the problem that says why there is no answer.

pub(crate) mod check;
pub mod envelope;
mod fault;
pub(crate) mod lengths;
pub(crate) mod names;
pub(crate) mod not_given;
mod not_json;
pub mod problem;
mod problem_kind;
pub mod tree;
pub mod uncertain;
