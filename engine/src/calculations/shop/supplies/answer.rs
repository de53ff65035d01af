//! What a plan of supplies is answered with.

use super::question::ContainerKind;
use crate::quantity::{Count, DailyRate, Days, Money, Volume};
use crate::text::{CalendarDate, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What to order by when, and what becomes of what is on the shelf.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SuppliesAnswer {
    /// # Due today
    ///
    /// How many orders are due today.
    pub due_today: Count,
    /// # Orders
    ///
    /// The orders of the days ahead, the first to be placed first.
    pub orders: Vec<SupplyOrder>,
    /// # Cost of the orders
    ///
    /// What all of them cost; absent where a price is missing or nothing is ordered.
    pub cost: Option<Money>,
    /// # Supplies
    ///
    /// What becomes of each supply, in the order of the request.
    pub supplies: Vec<SupplyKept>,
}

/// An order to place.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SupplyOrder {
    /// # Supply
    ///
    /// What is ordered.
    #[schema(example = "concentrate A", value_type = String)]
    pub name: Name,
    /// # Order by
    ///
    /// The last day on which to order it.
    #[schema(example = "2026-12-08")]
    pub order_on: CalendarDate,
    /// # Comes on
    ///
    /// The day on which it is to come.
    #[schema(example = "2026-12-18")]
    pub arrives_on: CalendarDate,
    /// # Containers
    ///
    /// How many containers.
    pub containers: Count,
    /// # Kind
    ///
    /// What kind of container it is.
    pub kind: ContainerKind,
    /// # Volume
    ///
    /// How much that is.
    pub volume: Volume,
    /// # Cost
    ///
    /// What it costs; absent without a price.
    pub cost: Option<Money>,
}

/// What becomes of a supply.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SupplyKept {
    /// # Supply
    ///
    /// What it is called.
    #[schema(example = "concentrate A", value_type = String)]
    pub name: Name,
    /// # Used per day
    ///
    /// Mean use of a day, without what is planned for certain days.
    pub use_per_day: DailyRate,
    /// # Spread of a day
    ///
    /// Standard deviation of it.
    pub use_spread_per_day: DailyRate,
    /// # Safety stock
    ///
    /// What is kept for days that use more and deliveries that come late.
    pub safety_stock: Volume,
    /// # Reorder point
    ///
    /// Stock on hand and on order at which to order where it is watched all the time.
    pub reorder_point: Volume,
    /// # Order at
    ///
    /// Stock on hand and on order at which to order on a look at the shelf. What is planned until
    /// the delivery comes on top.
    pub order_at: Volume,
    /// # Runs out on
    ///
    /// The first day on which there is too little where nothing more is ordered; absent where it
    /// lasts beyond the days ahead.
    #[schema(example = "2027-01-14")]
    pub runs_out_on: Option<CalendarDate>,
    /// # Lasts
    ///
    /// Days until then.
    pub lasts_days: Option<Days>,
    /// # Short on
    ///
    /// The first day on which there is too little all the same, since no order comes in time;
    /// absent where there is none.
    #[schema(example = "2026-12-05")]
    pub short_on: Option<CalendarDate>,
    /// # Next order
    ///
    /// The next order; absent where none falls into the days ahead.
    pub next_order: Option<SupplyOrder>,
    /// # Thrown away
    ///
    /// What is past its last day, by the day on which it is found so.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub wasted: Vec<SupplyWasted>,
    /// # Left at the end
    ///
    /// What is on the shelf at the end of the days ahead.
    pub left: Volume,
}

/// What is thrown away.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SupplyWasted {
    /// # On
    ///
    /// The day.
    #[schema(example = "2027-07-01")]
    pub on: CalendarDate,
    /// # Volume
    ///
    /// How much.
    pub volume: Volume,
}
