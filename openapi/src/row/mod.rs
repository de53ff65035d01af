//! A row of a table read into a question and an answer written into a row, without a document in between.

pub(crate) mod cells;
pub(crate) mod guard;
pub(crate) mod leaves;
pub(crate) mod member;
pub(crate) mod words;
