//! Tests of what all calculations have in common.

mod advice;
mod bounds;
mod cautions;
mod cells;
mod client;
mod document;
mod documents;
mod filing;
mod laws;
mod lines;
mod losses;
mod network;
mod page;
mod page_away;
mod problems;
mod program;
mod readers;
mod released;
mod sheets;
mod tables;
mod uncertainty;
mod wire;
mod work;

pub(crate) use readers::assert_closes;
