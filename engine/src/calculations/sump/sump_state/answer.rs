//! The answer: what is in the sump now, what looks wrong, what to do, and the state to go on from.

use super::super::losses::EstimatedDailyRate;
use super::super::top_up::TopUpAnswer;
use super::alarms::{StateAlarm, WatchedReading};
use super::kept::KeptState;
use crate::quantity::{Concentration, Content, Days, Mark, Number, Volume, VolumeDifference};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Number of standard uncertainties to either side that hold the truth in 95 of 100.
pub(super) const COVERAGE: f64 = 1.959_963_984_540_054;

/// What is in a sump now.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpStateAnswer {
    /// # Now
    ///
    /// What is in the sump at the moment that is asked about.
    pub now: StateNow,
    /// # To do today
    ///
    /// What to do today. Without a band: only what to look at first.
    pub to_do: Option<ToDoToday>,
    /// # Top-up
    ///
    /// The top-up that fills the sump and brings it to the target of its band; only where that is
    /// what to do.
    pub top_up: Option<TopUpAnswer>,
    /// # Next reading
    ///
    /// When a reading is worth taking: when the sump may have left its band or its lowest level;
    /// absent where that is more than 90 days away, or nothing is given to keep to.
    pub next_reading: Option<NextReading>,
    /// # Losses
    ///
    /// The losses as the log shows them by now.
    pub losses: StateRates,
    /// # Slow faults
    ///
    /// What goes wrong slowly, since the last clean-out or since the state was handed back
    /// without it.
    pub alarms: Vec<StateAlarm>,
    /// # Entries
    ///
    /// Each entry handed in, before anything was done, smoothed with what came after.
    pub entries: Vec<EntryEstimate>,
    /// # State
    ///
    /// State to hand back with the entries to come, instead of the whole log.
    pub state: KeptState,
}

/// What is in a sump at a moment.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StateNow {
    /// # Day
    ///
    /// Day that is asked about, as the log counts.
    pub day: Days,
    /// # In the sump
    ///
    /// Fluid in the sump.
    pub volume: IntervalOfVolume,
    /// # Strength
    ///
    /// Concentration of the fluid.
    pub concentration: IntervalOfStrength,
    /// # Instrument must read
    ///
    /// What the instrument of the last reading should show now; absent where the log has none.
    pub mark: Option<Mark>,
    /// # Carried
    ///
    /// What else it carries, as far as it was ever read.
    #[schema(max_items = 100)]
    pub properties: Vec<IntervalOfContent>,
}

/// A volume with its standard uncertainty and the interval that holds it in 95 of 100.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct IntervalOfVolume {
    /// # Volume
    ///
    /// The volume.
    pub value: Volume,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: Volume,
    /// # At least
    ///
    /// Lower end of the interval of 95 %.
    pub low: Volume,
    /// # At most
    ///
    /// Upper end of the interval of 95 %.
    pub high: Volume,
}

/// A concentration with its standard uncertainty and the interval that holds it in 95 of 100.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct IntervalOfStrength {
    /// # Concentration
    ///
    /// The concentration.
    pub value: Concentration,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: Concentration,
    /// # At least
    ///
    /// Lower end of the interval of 95 %.
    pub low: Concentration,
    /// # At most
    ///
    /// Upper end of the interval of 95 %.
    pub high: Concentration,
}

/// A content with its standard uncertainty and the interval that holds it in 95 of 100.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct IntervalOfContent {
    /// # Name
    ///
    /// Name of what it is.
    pub name: Name,
    /// # Content
    ///
    /// The content.
    pub value: Content,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: Content,
    /// # At least
    ///
    /// Lower end of the interval of 95 %.
    pub low: Content,
    /// # At most
    ///
    /// Upper end of the interval of 95 %.
    pub high: Content,
}

/// What to do today.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ToDoToday {
    /// Find out what goes wrong, and read level and strength, before anything is poured.
    LookFirst,
    /// Read level and strength: whether it is in its band is not known well enough.
    ReadFirst,
    /// Top up.
    TopUp,
    /// Nothing.
    Nothing,
}

/// When a reading is worth taking.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NextReading {
    /// # On day
    ///
    /// The day, as the log counts.
    pub day: Days,
    /// # Days from now
    ///
    /// Days from now.
    pub in_days: Days,
    /// # What may be out
    ///
    /// What may then be out of bounds.
    pub what: WatchedReading,
}

/// The losses as the log shows them by now.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StateRates {
    /// # Lost to evaporation
    ///
    /// Evaporation on a day of work.
    pub evaporation: EstimatedDailyRate,
    /// # Lost on chips and parts
    ///
    /// Carry-off on a day of work.
    pub carry_off: EstimatedDailyRate,
    /// # Lost while it stands
    ///
    /// Evaporation on a day on which the machine stands; only with a calendar.
    pub standing: Option<EstimatedDailyRate>,
}

/// An entry against what the log made of it.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EntryEstimate {
    /// # Day
    ///
    /// Day of the entry, as the log counts.
    pub day: Days,
    /// # At
    ///
    /// Moment of the entry, as the log wrote it.
    pub at: Option<String>,
    /// # In the sump
    ///
    /// Fluid in the sump.
    pub volume: IntervalOfVolume,
    /// # Strength
    ///
    /// Concentration of the fluid.
    pub concentration: IntervalOfStrength,
    /// # Level read too high by
    ///
    /// What was read less what was to be read; negative where it is too low.
    pub volume_off: Option<VolumeDifference>,
    /// # Surprise in the level
    ///
    /// The same without its sign, in its own standard uncertainties.
    pub volume_surprise: Option<Number>,
    /// # Surprise in the strength
    ///
    /// What was read less what was to be read, without its sign, in its own standard
    /// uncertainties.
    pub strength_surprise: Option<Number>,
}
