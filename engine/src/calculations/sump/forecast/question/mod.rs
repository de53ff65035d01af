//! The question: a sump, what it loses and gains, and how it is fed.

use crate::dynamics::MaterialDensities;
use crate::dynamics::working_calendar::WorkingCalendar;
use crate::fluid::band::Band;
use crate::fluid::loss_rates::LossRates;
use crate::fluid::oil::OilRates;
use crate::fluid::properties::Limits;
use crate::fluid::sheet::SheetLimits;
use crate::fluid::sump::Sump;
use crate::quantity::{Capacity, DailyRate, DaysAhead, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

mod changes;
mod feeding;

pub use changes::{PlannedAddition, PlannedChange, PlannedRemoval};
pub use feeding::{FeedAlways, FeedBelow, FeedEvery, FeedStock, Feeding, MixedFeed, PremixFeed};

/// A sump, what it loses and gains, and how it is fed.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Forecast {
    /// # Sump today
    ///
    /// The sump as it is on day 0.
    pub sump: Sump,
    /// # Lost per day
    ///
    /// Losses of the sump per day.
    pub losses: LossRates,
    /// # Working calendar
    ///
    /// Days on which the shop works, with the date of day 0 (day 0 is). The losses, the oil and
    /// what is drained off are then those of a day of work. Default: every day is like any
    /// other.
    pub calendar: Option<WorkingCalendar>,
    /// # Lost while it stands
    ///
    /// Water lost to evaporation per day on which the shop does not work. Default: 0.
    #[schema(example = 2.0)]
    pub standing: Option<DailyRate>,
    /// # Drained off on purpose
    ///
    /// Fluid drained off on purpose per day, as it is in the sump. Default: 0.
    pub discharge: Option<DailyRate>,
    /// # Tramp oil
    ///
    /// Oil that leaks into the sump, and a skimmer against it. Default: none.
    pub oil: Option<OilRates>,
    /// # Feeding
    ///
    /// When and with what the sump is filled up. Default: never.
    pub feeding: Option<Feeding>,
    /// # Planned changes
    ///
    /// Whatever else will be done to the sump, by day.
    pub changes: Option<Vec<PlannedChange>>,
    /// # Band
    ///
    /// The band that the fluid is to be kept in.
    pub band: Option<Band>,
    /// # Levels
    ///
    /// The levels that the sump is to be kept between.
    pub levels: Option<LevelBand>,
    /// # Limits
    ///
    /// Limits that the fluid must keep to.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// # The fluid's sheet
    ///
    /// Limits of the fluid's own sheet. What is followed of nitrite, chloride, hardness and tramp
    /// oil also has to keep the boundaries that `condition` acts on by it.
    pub sheet: Option<SheetLimits>,
    /// # Densities
    ///
    /// Densities of concentrate and tramp oil; they change only the masses of
    /// the balance.
    pub densities: Option<MaterialDensities>,
    /// # Measured to
    ///
    /// What the amounts are measured out to, for instance half a litre. Default: by their
    /// size.
    #[schema(example = 0.5)]
    pub measures_to: Option<Capacity>,
    /// # Days to look ahead
    ///
    /// Number of days to look ahead, up to 3660.
    #[schema(example = 30.0)]
    pub days: DaysAhead,
}

/// The levels that a sump is to be kept between, as volumes.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LevelBand {
    /// # Lowest level
    ///
    /// Fluid in the sump at the lowest level that the pump can work with.
    #[schema(example = 150.0)]
    pub min: Option<Volume>,
    /// # Highest level
    ///
    /// Fluid in the sump at the highest level allowed. Default: its capacity.
    pub max: Option<Volume>,
}
