//! A table in, a table out: a row a document.
//!
//! The headings are read once and say where each cell belongs; rows are then
//! answered one by one, in any number of pieces and on any number of threads, so
//! that memory does not grow with the rows. The caller's columns come back as
//! they came, with the answer's after them and, in each row that could not be
//! answered, a sentence in `problem`.

mod columns;
mod dialect;
mod heading;
mod list;
mod open;
mod options;
mod refused;
mod rows;
mod spelling;
mod state;
mod unit_words;
mod whole;

pub use crate::row::guard::harmless;
pub use columns::{PROBLEM_COLUMN, merge};
pub use dialect::{BYTE_ORDER_MARK, Dialect, RowEnds};
pub use list::{as_list, heads_numbers};
pub use options::TableOptions;
pub use refused::Refused;
pub use state::Table;
pub use whole::answer_whole;
