//! A table in, a table out: each row is a document.
//!
//! The headings are read once and assign each cell to a member. Rows are then
//! answered one by one, in any number of pieces and on any number of threads, so
//! memory does not grow with the number of rows. The caller's columns are returned
//! unchanged, with the answer's columns after them and, in each row without an
//! answer, a sentence in `problem`.
//!
//! # Decisions
//!
//! - **The bytes of a row are copied unchanged** unless a cell has to be disarmed or quoted. What the caller has
//!   read is dropped from the spool, so a caller that keeps up is served from memory.
//! - **A table is read along its headings.** The headings become a tree once; serde reads each row
//!   along that tree straight into the question, and a serialiser writes the answer straight into the
//!   columns, without a document in between. A row that cannot be read this way goes the thorough way, which
//!   says why. Cells that a spreadsheet would execute get an apostrophe. The answer waits in an unnamed file
//!   until it is read, so a caller that sends everything first is served too.
//! - **A piece of a table yields its thread every second**, so that the time limit applies to a row, not to a piece.

mod answered;
mod columns;
mod dialect;
mod heading;
mod list;
mod meaning;
mod open;
mod options;
mod places;
mod refused;
mod room;
mod rows;
mod spelling;
mod state;
mod template;
mod unheaded;
mod unit_words;
mod whole;

pub use crate::row::guard::harmless;
pub use answered::answered;
pub use columns::{PROBLEM_COLUMN, headed, merge};
pub use dialect::{Dialect, RowEnds, row_of_headings};
pub use list::{ListTable, as_list};
pub use meaning::{Meaning, meaning};
pub use options::{HEADINGS_IN, TableOptions};
pub use refused::Refused;
pub use room::VALUES_MOST;
pub use state::Table;
pub use template::{ColumnKind, Template, TemplateColumn};
pub use whole::answer_whole;
