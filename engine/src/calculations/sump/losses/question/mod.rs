//! The question: a sump and its log.

use super::answer::EstimatedDailyRate;
use crate::dynamics::log::{LogEntry, LogKeeping, LoggedSump, NamedFluid, ReadingUncertainty};
use crate::dynamics::working_calendar::WorkingCalendar;
use crate::quantity::{Quantity, Ratio};
use crate::text::{DateOrder, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A sump's log, to be turned into what the sump loses.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Losses {
    /// # Sump
    ///
    /// The sump.
    pub sump: LoggedSump,
    /// # Log
    ///
    /// Entries of what was read, added and removed, in order of time.
    pub log: Vec<LogEntry>,
    /// # Uncertainty of readings
    ///
    /// Standard uncertainty of the readings. Default: from the scatter of the readings about
    /// the fit.
    pub reading_uncertainty: Option<ReadingUncertainty>,
    /// # Also estimate
    ///
    /// Figures to work out besides evaporation and carry-off.
    #[schema(max_items = 2)]
    pub estimate: Option<Vec<AlsoEstimated>>,
    /// # Known losses
    ///
    /// Losses that are known from elsewhere than the log.
    pub known: Option<KnownLosses>,
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
    /// Days on which the shop works. With it the losses are those of a day of work, and what
    /// evaporates on other days is worked out by itself. Default: every day is like any other.
    pub calendar: Option<WorkingCalendar>,
}

/// A figure that can be worked out besides the two rates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum AlsoEstimated {
    /// The depletion ratio. Needs one of the rates from elsewhere.
    DepletionRatio,
    /// The volume that the sump truly holds at its nominal capacity, from additions of known
    /// volume against the levels and strengths read.
    Volume,
}

/// Losses that are known from elsewhere than the log.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KnownLosses {
    /// # Evaporation
    ///
    /// Evaporation per day, by a measurement of its own.
    pub evaporation: Option<EstimatedDailyRate>,
    /// # Carry-off
    ///
    /// Carry-off per day, for instance from weighing chips before and after they are drained
    /// dry.
    pub carry_off: Option<EstimatedDailyRate>,
    /// # Evaporation while it stands
    ///
    /// Evaporation per day on which the machine stands, by a measurement of its own.
    pub standing: Option<EstimatedDailyRate>,
    /// # Depletion ratio
    ///
    /// Strength of what is carried off, divided by that of the fluid. Default: 1.
    pub depletion_ratio: Option<Ratio>,
}

impl Losses {
    /// The log, with what is needed to understand it.
    pub(super) fn keeping(&self) -> LogKeeping<'_> {
        LogKeeping {
            sump: &self.sump,
            log: &self.log,
            fluids: self.fluids.as_deref().unwrap_or_default(),
            time_zone: self.time_zone.as_deref(),
            date_order: self.date_order,
            calendar: self.calendar.as_ref(),
            reading_uncertainty: self.reading_uncertainty,
        }
    }

    pub(super) fn asks(&self, extra: AlsoEstimated) -> bool {
        self.estimate.iter().flatten().any(|asked| *asked == extra)
    }

    /// The depletion ratio to begin with: as known, or 1.
    pub(super) fn depletion(&self) -> f64 {
        self.known.and_then(|known| known.depletion_ratio).map_or(1.0, Quantity::get)
    }
}
