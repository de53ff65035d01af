//! A sump's log as a shop keeps it: dates without a time, "filled up", a level by the dipstick,
//! litres of a premix by its name, "cleaned out", "machine stood".
//!
//! It is defined once, for every calculation that reads a log. [`LogKeeping`] is the log with
//! what is needed to understand it; [`LogKeeping::read`] gives each entry in numbers.
//!
//! # Decisions
//!
//! - **Filled up is a level that was seen.** Where the litres poured in are written too, what was
//!   in the sump before is what it then held less them: a log without a single level shows what the
//!   sump loses. Where they are not, what was poured in is whatever was missing.
//! - **A day is spread evenly from the beginning of its work**, so that entries of one hour count
//!   whole days, and those of another hour the right parts of them.

mod entry;
mod numbers;
mod sump;
mod times;

pub use entry::{LogAddition, LogEntry, LogHappening, LogRemoval, ReadingUncertainty};
pub use numbers::{PouredIn, ReadEntry, ReadLevel, TakenOut};
pub use sump::{DipMark, FULL, LevelMark, LoggedSump, NamedFluid};
pub use times::{LogTimes, usual_morning};

use crate::dynamics::working_calendar::WorkingCalendar;
use crate::text::DateOrder;

/// A log, and what is needed to understand it.
#[derive(Debug, Clone, Copy)]
pub struct LogKeeping<'a> {
    /// The sump.
    pub sump: &'a LoggedSump,
    /// The entries.
    pub log: &'a [LogEntry],
    /// The fluids that it names.
    pub fluids: &'a [NamedFluid],
    /// The time zone of its clock, by its IANA name.
    pub time_zone: Option<&'a str>,
    /// The order of day and month in its dates.
    pub date_order: Option<DateOrder>,
    /// The days on which the shop works.
    pub calendar: Option<&'a WorkingCalendar>,
    /// How uncertain its readings are.
    pub reading_uncertainty: Option<ReadingUncertainty>,
}
