//! The question: a sump, its log, what is known of its losses, and the moment that is asked about.

use super::super::losses::EstimatedDailyRate;
use super::kept::KeptState;
use crate::dynamics::log::{LogEntry, LoggedSump, NamedFluid, ReadingUncertainty};
use crate::dynamics::working_calendar::WorkingCalendar;
use crate::fluid::band::Band;
use crate::fluid::stock::Stock;
use crate::quantity::{Capacity, Days, Ratio, Share};
use crate::text::{DateOrder, MomentText, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A sump and its log, to be turned into what is in it now.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpState {
    /// # Sump
    ///
    /// The sump.
    pub sump: LoggedSump,
    /// # Log
    ///
    /// Entries of what was read, added and removed, in order of time: all of them, or those since
    /// the state.
    pub log: Vec<LogEntry>,
    /// # State
    ///
    /// State that an earlier answer gave. Default: the log begins with a sump of which nothing is
    /// known.
    pub state: Option<KeptState>,
    /// # Now
    ///
    /// Moment that is asked about. Default: the last entry, after what was done.
    #[schema(example = "2026-03-30T14:00:00+02:00")]
    pub now: Option<MomentText>,
    /// # Today
    ///
    /// Day that is asked about, where the log counts days.
    pub now_day: Option<Days>,
    /// # Losses
    ///
    /// What is known of the losses on a day of work, for instance from losses. Default: they are
    /// learned from the log alone.
    pub losses: Option<StateLosses>,
    /// # Drift of losses
    ///
    /// By how much a loss wanders in 30 days, as a share of the whole loss (one sigma). 0 holds
    /// the losses constant. Default: 10 %.
    #[schema(example = 10.0)]
    pub drift: Option<Share>,
    /// # Uncertainty of readings
    ///
    /// Standard uncertainty of the readings. Default: 2 % of the capacity, and 0.2 points.
    pub reading_uncertainty: Option<ReadingUncertainty>,
    /// # Band
    ///
    /// The band that the fluid is to be kept in, for what to do today and for the next reading.
    pub band: Option<Band>,
    /// # Lowest level
    ///
    /// Fluid in the sump at the lowest level that the pump can work with.
    #[schema(example = 150.0)]
    pub lowest: Option<Capacity>,
    /// # Stocks
    ///
    /// What there is to add. Default: neat concentrate and water.
    pub stocks: Option<Vec<Stock>>,
    /// # Fluids
    ///
    /// Fluids that the log names: premixes, batches from the recycler. "water" and
    /// "concentrate" are known.
    pub fluids: Option<Vec<NamedFluid>>,
    /// # Time zone
    ///
    /// Time zone of the shop by its IANA name, for moments without an offset from UTC.
    /// Default: their clock is taken to go evenly.
    #[schema(value_type = Option<Name>, example = "Europe/Berlin")]
    pub time_zone: Option<Name>,
    /// # Dates are written
    ///
    /// Order of day and month in dates that end with the year. Default: dates with points
    /// begin with the day; any other that could be two is refused.
    pub date_order: Option<DateOrder>,
    /// # Working calendar
    ///
    /// Days on which the shop works. Default: every day is like any other.
    pub calendar: Option<WorkingCalendar>,
}

/// What is known of the losses.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StateLosses {
    /// # Evaporation
    ///
    /// Evaporation on a day of work.
    pub evaporation: Option<EstimatedDailyRate>,
    /// # Carry-off
    ///
    /// Carry-off on a day of work.
    pub carry_off: Option<EstimatedDailyRate>,
    /// # Evaporation while it stands
    ///
    /// Evaporation on a day on which the machine stands.
    pub standing: Option<EstimatedDailyRate>,
    /// # Depletion ratio
    ///
    /// Strength of what is carried off, divided by that of the fluid. Default: 1.
    pub depletion_ratio: Option<Ratio>,
}
