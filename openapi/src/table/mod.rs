//! A table in, a table out: a row a document.
//!
//! The headings are read once and say where each cell belongs; rows are then
//! answered one by one, in any number of pieces and on any number of threads, so
//! that memory does not grow with the rows. The caller's columns come back as
//! they came, with the answer's after them and, in each row that could not be
//! answered, a sentence in `problem`.
//!
//! # Decisions
//!
//! - **A table's row is copied as it came** where nothing in it has to be disarmed or quoted anew, and what
//!   the caller has read leaves the spool, so that one who keeps up is served from memory.
//! - **A table is read along its headings.** The headings become a tree once; each row goes through serde
//!   along that tree straight into the question, and the answer through a serialiser straight into the
//!   columns, with no document between. A row that cannot be read so goes the thorough way, which says why.
//!   Cells that a spreadsheet would execute get an apostrophe. The answer waits in a file without a name
//!   until it is read, so that a caller who sends everything first is served as well.
//! - **A piece of a table gives up its thread by the second**, so that the cut-off is a row's and not a piece's.

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
pub use dialect::{Dialect, RowEnds};
pub use list::{as_list, heads_numbers};
pub use options::TableOptions;
pub use refused::Refused;
pub use state::Table;
pub use whole::answer_whole;
