//! What a request brings: its envelope, the document read and held against the
//! published schema, and the problem that says why there is no answer.

pub mod envelope;
pub mod faults;
pub(crate) mod lengths;
pub(crate) mod names;
pub mod problem;
pub mod tree;
pub mod uncertain;
