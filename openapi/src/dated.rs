//! What an answer dates, for a calendar to show.

use sumpwright_engine::dated::DatedEvents;
use sumpwright_engine::quantity::UnitSystem;

/// What an answer dates, with the texts and units for writing it.
#[derive(Debug, Clone, PartialEq)]
pub struct EventsToList {
    /// Name of the calculation.
    pub calculation: &'static str,
    /// The caller's own reference, unchanged.
    pub reference: Option<String>,
    /// The units of its amounts.
    pub units: UnitSystem,
    /// What is to be done on which day.
    pub dated: DatedEvents,
}
