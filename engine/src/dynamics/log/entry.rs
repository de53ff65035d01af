//! One entry of a log: what was read, removed, added and done.

use crate::fluid::properties::Properties;
use crate::fluid::reading::Reading;
use crate::quantity::{Capacity, Concentration, Days, Hours, Length, Volume};
use crate::text::{MomentText, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// One entry of the log. Within an entry the order is: readings, then what was done, then
/// removals, then additions, then the level that it was filled to.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogEntry {
    /// # At
    ///
    /// Moment of the entry: a date alone is the morning of that day, a date with a time is the
    /// shop's own clock, or it has its offset from UTC. Give this or the day.
    #[schema(example = "2026-03-02T06:30:00+01:00")]
    pub at: Option<MomentText>,
    /// # Day
    ///
    /// Day of the entry, counted from any day; half a day is 0.5.
    pub day: Option<Days>,
    /// # In the sump
    ///
    /// Fluid in the sump, by its level.
    pub volume: Option<Volume>,
    /// # Level
    ///
    /// Height of the fluid, for the dip table. Give this or the volume.
    pub level: Option<Length>,
    /// # Strength
    ///
    /// Concentration of the fluid. Give this or a reading.
    pub concentration: Option<Concentration>,
    /// # Reading
    ///
    /// Reading of an instrument on the fluid.
    pub reading: Option<Reading>,
    /// # Carried
    ///
    /// What else a sample of the fluid was found to carry, for sump-state.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # What happened
    ///
    /// What happened to the sump, in a word.
    pub happened: Option<LogHappening>,
    /// # Removed
    ///
    /// Fluid drained or scooped out, as it was.
    pub removed: Option<LogRemoval>,
    /// # Added
    ///
    /// Fluid poured in.
    pub added: Option<LogAddition>,
    /// # Filled to
    ///
    /// Level that the sump was filled to: "full", or one of its marks by name.
    #[schema(example = "full")]
    pub filled_to: Option<Name>,
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

/// What happened to a sump, in a word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum LogHappening {
    /// All fluid was drained.
    Drained,
    /// It was drained and cleaned out.
    CleanedOut,
    /// The machine stood from here to the next entry.
    MachineStood,
}

/// Fluid poured in.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogAddition {
    /// # Volume
    ///
    /// Volume poured in. It may be left out where the level is known that the sump was filled to.
    #[schema(example = 40.0)]
    pub volume: Option<Volume>,
    /// # Strength
    ///
    /// Concentration: 0 for water, 100 for neat concentrate. Give this or the name.
    #[schema(example = 5.0)]
    pub concentration: Option<Concentration>,
    /// # Fluid
    ///
    /// Name of what was poured in: "water", "concentrate", or one of the fluids named in the
    /// question, such as a premix or a batch from the recycler.
    pub of: Option<Name>,
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

/// Standard uncertainties (one sigma) of readings.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingUncertainty {
    /// # Volume
    ///
    /// Standard uncertainty of a volume read from the level.
    pub volume: Option<Capacity>,
    /// # Concentration
    ///
    /// Standard uncertainty of a concentration.
    pub concentration: Option<Concentration>,
}
