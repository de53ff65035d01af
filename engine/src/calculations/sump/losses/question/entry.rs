//! One entry of a log: what was read, removed and added.

use super::ReadingUncertainty;
use crate::fluid::reading::Reading;
use crate::quantity::{Concentration, Days, Hours, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// One entry of the log. Within an entry the order is: readings, then removals, then
/// additions.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogEntry {
    /// # At
    ///
    /// Moment of the entry, with its offset from UTC. Give this or the day.
    #[schema(format = DateTime, example = "2026-03-02T06:30:00+01:00")]
    pub at: Option<String>,
    /// # Day
    ///
    /// Day of the entry, counted from any day; half a day is 0.5.
    pub day: Option<Days>,
    /// # In the sump
    ///
    /// Fluid in the sump, by its level.
    pub volume: Option<Volume>,
    /// # Strength
    ///
    /// Concentration of the fluid. Give this or a reading.
    pub concentration: Option<Concentration>,
    /// # Reading
    ///
    /// Reading of an instrument on the fluid.
    pub reading: Option<Reading>,
    /// # Removed
    ///
    /// Fluid drained or scooped out, as it was.
    pub removed: Option<LogRemoval>,
    /// # Added
    ///
    /// Fluid poured in.
    pub added: Option<LogAddition>,
    /// # Hour meter
    ///
    /// Reading of the machine's hour meter. Give it in every entry or in none: with it the
    /// rates are per running hour, and idle weeks do not mislead.
    pub running_hours: Option<Hours>,
    /// # Uncertainty of readings
    ///
    /// Standard uncertainty of this entry's readings, where it differs from the rest.
    pub reading_uncertainty: Option<ReadingUncertainty>,
}

/// Fluid poured in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogAddition {
    /// # Volume
    ///
    /// Volume poured in.
    #[schema(example = 40.0)]
    pub volume: Volume,
    /// # Strength
    ///
    /// Concentration: 0 for water, 100 for neat concentrate.
    #[schema(example = 5.0)]
    pub concentration: Concentration,
}

/// Fluid taken out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogRemoval {
    /// # Volume
    ///
    /// Volume removed.
    #[schema(example = 10.0)]
    pub volume: Volume,
}
