//! A row of a table on its way to a question and back, without a document between.

pub(crate) mod cells;
pub(crate) mod guard;
pub(crate) mod leaves;
pub(crate) mod member;
