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

use crate::quantity::{Count, Density, Money, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A shop whose waste is projected month by month.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Disposal {
    /// Number of months to look ahead, 1 to 240. Default: 12.
    #[schema(title = "Months ahead", example = 12)]
    pub months: Option<Count>,
    /// The sumps, in groups that are alike.
    #[schema(title = "Groups of sumps", min_items = 1, max_items = 20000)]
    pub groups: Vec<WasteGroup>,
    /// The concentrate that is bought.
    #[schema(title = "Concentrate bought")]
    pub concentrate: Option<ConcentrateBought>,
    /// The water that is bought.
    #[schema(title = "Water bought")]
    pub water: Option<WaterBought>,
    /// Density of the tramp oil. Default: that of water at 20 °C.
    #[schema(title = "Density of tramp oil", example = 0.87)]
    pub oil_density: Option<Density>,
    /// Water for washing parts and floors per month. Default: 0.
    #[schema(title = "Wash water", example = 300.0)]
    pub wash_water_per_month: Option<Volume>,
    /// Yields of a recycler for drained fluid. Default: all drained fluid is spent.
    #[schema(title = "Recycler")]
    pub recycler: Option<RecyclerYields>,
    /// Treatment on site of spent fluid and wash water. Default: none.
    #[schema(title = "Treatment on site")]
    pub treatment: Option<OnSiteTreatment>,
    /// Terms on which each stream leaves: container, prices, whether it counts.
    #[schema(title = "Waste streams", min_items = 1, max_items = 20000)]
    pub streams: Option<Vec<StreamTerms>>,
    /// Limits on the waste kept on site. Default: no limits, and no pickups are planned.
    #[schema(title = "Storage limits")]
    pub storage: Option<WasteStorage>,
    /// Price of each pickup, whatever it fetches.
    #[schema(title = "Price of a pickup", example = 180.0)]
    pub pickup_price: Option<Money>,
    /// Facts about the waste that narrow down its codes.
    #[schema(title = "About the waste")]
    pub facts: Option<WasteFacts>,
    /// Monte Carlo draws of the spreads; required where a spread is given.
    #[schema(title = "Draws of the spreads")]
    pub sampling: Option<SpreadSampling>,
    /// Currency of the prices, handed back as it is.
    #[serde(deserialize_with = "crate::text::names::optional_name", default)]
    #[schema(title = "Currency", example = "EUR", min_length = 1, max_length = 128)]
    pub currency: Option<String>,
}
