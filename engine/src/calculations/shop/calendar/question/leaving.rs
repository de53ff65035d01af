//! Where drained fluid goes: the dirty tank with its recycler, and waste.

use crate::dynamics::working_calendar::DayOfWeek;
use crate::quantity::{
    Capacity, DayHours, Days, Density, Mass, Money, MoneyPerMass, Share, Throughput, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The tank that all drained fluid goes into, and the recycler that empties it.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecyclerInCalendar {
    /// # Dirty tank holds
    ///
    /// What the tank for dirty fluid holds up to its mark.
    #[schema(example = 2000.0)]
    pub tank: Capacity,
    /// # In the tank now
    ///
    /// What is in it when the plan begins. Default: 0.
    #[schema(example = 400.0)]
    pub level: Option<Volume>,
    /// # Throughput
    ///
    /// Dirty fluid that the recycler takes in an hour.
    #[schema(example = 25.0)]
    pub throughput: Throughput,
    /// # Hours a day
    ///
    /// Hours that it runs on each of its days. Default: 8.
    #[schema(example = 8.0)]
    pub hours_a_day: Option<DayHours>,
    /// # Runs on
    ///
    /// Days of the week on which it runs. Default: Monday to Friday.
    #[schema(max_items = 7)]
    pub runs_on: Option<Vec<DayOfWeek>>,
    /// # Recovered
    ///
    /// Share of the dirty fluid that is recovered and saves fresh fluid; the rest is waste.
    #[schema(example = 75.0)]
    pub recovered: Share,
}

/// What waste costs, and what the shop may have of it.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteInCalendar {
    /// # Density
    ///
    /// Mass by volume of spent fluid. Default: that of water at 20 °C.
    #[schema(example = 1.0)]
    pub density: Option<Density>,
    /// # Price of waste
    ///
    /// What its disposal costs by mass. Default: 0.
    #[schema(example = 0.4)]
    pub price: Option<MoneyPerMass>,
    /// # Other waste a month
    ///
    /// Waste that counts and does not come from clean-outs, in a month of 30 days. Default: 0.
    #[schema(example = 40.0)]
    pub other_per_month: Option<Mass>,
    /// # Most in a month
    ///
    /// Waste that may arise in a calendar month, with what comes from elsewhere. Default: no limit.
    pub most_per_month: Option<Mass>,
    /// # Prices of the categories
    ///
    /// What a month costs in which the shop is a larger US generator (40 CFR 262.13). The
    /// storage limits of that category then hold for the pickups as well. Default: not looked at.
    pub categories: Option<CategoryPrices>,
    /// # On site now
    ///
    /// Waste on site when the plan begins. Default: 0.
    pub on_site: Option<Mass>,
    /// # Most on site
    ///
    /// Waste that may be on site. Default: no limit, and no pickups are planned without one.
    #[schema(example = 4000.0)]
    pub most_on_site: Option<Mass>,
    /// # Longest stay
    ///
    /// Longest time that any of it may stay, its own day counted. Whole days. Default: no limit.
    #[schema(example = 180.0)]
    pub stay_days: Option<Days>,
    /// # Price of a pickup
    ///
    /// What each pickup costs, whatever it fetches. Default: 0.
    #[schema(example = 260.0)]
    pub pickup_price: Option<Money>,
}

/// What a month costs by the US generator category that its waste makes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CategoryPrices {
    /// # Small quantity
    ///
    /// What a month costs in which the shop is a small quantity generator.
    #[schema(example = 150.0)]
    pub small: Money,
    /// # Large quantity
    ///
    /// What a month costs in which it is a large quantity generator.
    #[schema(example = 900.0)]
    pub large: Money,
}
