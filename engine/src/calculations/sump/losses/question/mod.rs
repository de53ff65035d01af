//! The question: a sump and its log.

use super::answer::EstimatedDailyRate;
use crate::quantity::{Capacity, Concentration, Quantity, Ratio};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

mod entry;

pub use entry::{LogAddition, LogEntry, LogRemoval};

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
}

/// The sump that the log is about.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoggedSump {
    /// # Capacity
    ///
    /// Fluid in the sump when full to its working level, by its plate or by the shop's
    /// reckoning.
    #[schema(example = 200.0)]
    pub capacity: Capacity,
    /// # Strength to hold
    ///
    /// Concentration to hold, for the make-up. Default: that of the log's last entry.
    pub concentration: Option<Concentration>,
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
    /// # Depletion ratio
    ///
    /// Strength of what is carried off, divided by that of the fluid. Default: 1.
    pub depletion_ratio: Option<Ratio>,
}

impl Losses {
    pub(super) fn asks(&self, extra: AlsoEstimated) -> bool {
        self.estimate.iter().flatten().any(|asked| *asked == extra)
    }

    /// The depletion ratio to begin with: as known, or 1.
    pub(super) fn depletion(&self) -> f64 {
        self.known.and_then(|known| known.depletion_ratio).map_or(1.0, Quantity::get)
    }
}
