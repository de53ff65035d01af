//! What a projection is asked about: sumps, what is bought, and how waste leaves.

mod leaving;
mod sumps;
mod supply;

pub use leaving::{
    ChangesFall, MetalCut, SpreadSampling, StreamTerms, WasteContainer, WasteFacts, WasteStorage,
};
pub use sumps::{
    ByCalendar, ByForecast, ByRunningHours, ChangeHabit, SettledFines, SumpFilter, SumpOilLeak,
    SumpRinse, WasteGroup,
};
pub use supply::{
    ConcentrateBought, ConcentrateDrum, EvaporatorTreatment, MembraneTreatment, OnSiteTreatment,
    RecyclerYields, WaterBought,
};

use crate::dynamics::working_calendar::WorkingCalendar;
use crate::quantity::{Density, Money, MonthsAhead, Volume};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A shop whose waste is projected month by month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Disposal {
    /// # Months ahead
    ///
    /// Number of months to look ahead, 1 to 240. Default: 12.
    #[schema(example = 12)]
    pub months: Option<MonthsAhead>,
    /// # Groups of sumps
    ///
    /// The sumps, in groups that are alike.
    pub groups: Vec<WasteGroup>,
    /// # Working calendar
    ///
    /// Days on which the shop works, with the date of day 0 (day 0 is), on which the first month
    /// begins. Losses and oil leaks are then those of a day of work, and a month has what its days
    /// of work bring. Default: every day is like any other.
    pub calendar: Option<WorkingCalendar>,
    /// # Concentrate bought
    ///
    /// The concentrate that is bought.
    pub concentrate: Option<ConcentrateBought>,
    /// # Water bought
    ///
    /// The water that is bought.
    pub water: Option<WaterBought>,
    /// # Density of tramp oil
    ///
    /// Density of the tramp oil. Default: that of water at 20 °C.
    #[schema(example = 0.87)]
    pub oil_density: Option<Density>,
    /// # Wash water
    ///
    /// Water for washing parts and floors per month. Default: 0.
    #[schema(example = 300.0)]
    pub wash_water_per_month: Option<Volume>,
    /// # Recycler
    ///
    /// Yields of a recycler for drained fluid. Default: all drained fluid is spent.
    pub recycler: Option<RecyclerYields>,
    /// # Treatment on site
    ///
    /// Treatment on site of spent fluid and wash water. Default: none.
    pub treatment: Option<OnSiteTreatment>,
    /// # Waste streams
    ///
    /// Terms on which each stream leaves: container, prices, whether it counts.
    pub streams: Option<Vec<StreamTerms>>,
    /// # Storage limits
    ///
    /// Limits on the waste kept on site. Default: no limits, and no pickups are planned.
    pub storage: Option<WasteStorage>,
    /// # Price of a pickup
    ///
    /// Price of each pickup, whatever it fetches.
    #[schema(example = 180.0)]
    pub pickup_price: Option<Money>,
    /// # About the waste
    ///
    /// Facts about the waste that narrow down its codes.
    pub facts: Option<WasteFacts>,
    /// # Draws of the spreads
    ///
    /// Monte Carlo draws of the spreads; required where a spread is given.
    pub sampling: Option<SpreadSampling>,
    /// # Currency
    ///
    /// Currency of the prices, handed back as it is.
    pub currency: Option<Name>,
}
