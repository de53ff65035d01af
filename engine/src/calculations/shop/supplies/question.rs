//! The question: what is on the shelf, what is used of it, and how it is ordered.

use crate::quantity::{Capacity, Count, DailyRate, Days, MoneyPerVolume, Quantity, Share, Volume};
use crate::text::{DayText, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The supplies of a shop, what is used of them, and how they are ordered.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Supplies {
    /// # Today
    ///
    /// The day that the plan begins on.
    #[schema(example = "2026-12-01")]
    pub today: DayText,
    /// # Supplies
    ///
    /// The concentrates, waters and whatever else is ordered.
    #[schema(max_items = 200)]
    pub supplies: Vec<SupplyItem>,
    /// # Service level
    ///
    /// How sure it is to be that nothing runs out before a delivery: from 50 to less than 100 %.
    /// Default: 95.
    #[schema(example = 95.0)]
    pub service_level: Option<Share>,
    /// # Looked at every
    ///
    /// Days from one look at the shelf to the next, whole ones. Default: 1.
    #[schema(example = 1.0)]
    pub look_days: Option<Days>,
    /// # Days ahead
    ///
    /// How far the plan goes. Default: 90.
    #[schema(example = 90.0)]
    pub days_ahead: Option<Days>,
}

/// Something that is kept on the shelf.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SupplyItem {
    /// # Supply
    ///
    /// What it is called, different for each.
    #[schema(example = "concentrate A", value_type = String, min_length = 1, max_length = 128)]
    pub name: Name,
    /// # On hand
    ///
    /// What is on the shelf today, opened containers included.
    #[schema(example = 310.0)]
    pub on_hand: Volume,
    /// # Use on hand by
    ///
    /// The last day on which what is on hand may be used. Default: it keeps.
    #[schema(example = "2027-06-30")]
    pub use_by: Option<DayText>,
    /// # Used per day
    ///
    /// What is used on a day of the calendar, on average. Give this or what past weeks used.
    #[schema(example = 6.0)]
    pub use_per_day: Option<DailyRate>,
    /// # Spread of a day
    ///
    /// Standard deviation of what is used on a day. Default: that of past weeks, or none.
    #[schema(example = 1.5)]
    pub use_spread_per_day: Option<DailyRate>,
    /// # Used in past weeks
    ///
    /// What each of the past weeks used. Default: what is used per day is given.
    #[schema(max_items = 520)]
    pub used_per_week: Option<Vec<Volume>>,
    /// # Planned use
    ///
    /// What is used besides on certain days: refills after a clean-out. Default: none.
    #[schema(max_items = 1000)]
    pub planned: Option<Vec<PlannedUse>>,
    /// # On order
    ///
    /// What was ordered already and is to come. Default: nothing.
    #[schema(max_items = 100)]
    pub on_order: Option<Vec<OpenOrder>>,
    /// # Container
    ///
    /// What it is delivered in.
    pub container: SupplyContainer,
    /// # Containers at least
    ///
    /// The fewest that an order may have. Default: 1.
    #[schema(example = 1)]
    pub containers_at_least: Option<Count>,
    /// # Lead time
    ///
    /// Days from an order to its delivery; a begun one counts as a day.
    #[schema(example = 10.0)]
    pub lead_days: Days,
    /// # Spread of the lead time
    ///
    /// Standard deviation of these days. Default: 0.
    #[schema(example = 2.0)]
    pub lead_spread_days: Option<Days>,
    /// # An order lasts
    ///
    /// Days that an order is to last. Default: 30.
    #[schema(example = 30.0)]
    pub order_lasts_days: Option<Days>,
    /// # Shelf life
    ///
    /// Days after its delivery on which it may still be used. Default: it keeps.
    #[schema(example = 365.0)]
    pub shelf_life_days: Option<Days>,
    /// # Price
    ///
    /// Price. Default: none, and no cost of orders.
    pub unit_cost: Option<MoneyPerVolume>,
}

/// What a supply is delivered in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SupplyContainer {
    /// # Kind
    ///
    /// What kind of container it is.
    pub kind: ContainerKind,
    /// # Container holds
    ///
    /// What one holds.
    #[schema(example = 205.0)]
    pub volume: Capacity,
}

/// Kinds of container.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum ContainerKind {
    /// A canister.
    Canister,
    /// A drum.
    Drum,
    /// A tote of about a cubic metre.
    Tote,
    /// A delivery by road tanker.
    Tanker,
}

/// What is used on a certain day besides what is used on every day.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PlannedUse {
    /// # On
    ///
    /// The day.
    #[schema(example = "2026-12-22")]
    pub on: DayText,
    /// # Takes
    ///
    /// What is used of the supply.
    #[schema(example = 45.0)]
    pub volume: Volume,
}

/// An order that is to come.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OpenOrder {
    /// # Comes on
    ///
    /// The day on which it is to come.
    #[schema(example = "2026-12-04")]
    pub arrives_on: DayText,
    /// # Ordered
    ///
    /// How much comes.
    #[schema(example = 205.0)]
    pub volume: Volume,
}

impl Supplies {
    /// The days of the plan.
    pub(super) fn horizon(&self) -> usize {
        self.days_ahead.map_or(90, |days| whole_days(days.get()))
    }

    /// Days from one look to the next.
    pub(super) fn look_every(&self) -> usize {
        self.look_days.map_or(1, |days| whole_days(days.get())).max(1)
    }
}

/// Days in whole ones, a begun one counted; checked to be few.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "from nothing to some thousands"
)]
pub(super) fn whole_days(days: f64) -> usize {
    (days - 1e-9).ceil().max(0.0) as usize
}
