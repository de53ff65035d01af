//! The sumps of a calendar: when each was cleaned out, how long its fluid lasts, and when its
//! machine stands.

use super::crews::DaySpan;
use crate::dynamics::working_calendar::DayOfWeek;
use crate::quantity::{Capacity, Days, Hours, Mass, Money, MoneyPerVolume};
use crate::text::{DayText, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A sump that is cleaned out again and again.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpInCalendar {
    /// # Sump
    ///
    /// What it is called in the shop.
    #[schema(example = "lathe 2", value_type = String, min_length = 1, max_length = 128)]
    pub name: Name,
    /// # Volume
    ///
    /// Fluid that is drained and filled in anew.
    #[schema(example = 220.0)]
    pub volume: Capacity,
    /// # Product
    ///
    /// The fluid in it, as `products` calls it. Default: none, and fresh fluid costs nothing.
    #[schema(example = "product A")]
    pub product: Option<Name>,
    /// # Hours of work
    ///
    /// Working hours that a clean-out takes, of all who work at it together.
    #[schema(example = 3.0)]
    pub hours: Hours,
    /// # Cleaned out on
    ///
    /// When it was last cleaned out.
    #[schema(example = "2026-09-14")]
    pub cleaned_on: DayText,
    /// # Longest interval
    ///
    /// Days from one clean-out to the next, at most: as `forecast` or `condition` finds it, or by
    /// habit. Default: 365.
    #[schema(example = 120.0)]
    pub longest_days: Option<Days>,
    /// # Shortest interval
    ///
    /// Days from one clean-out to the next, at least. Default: 1.
    pub shortest_days: Option<Days>,
    /// # Next one by
    ///
    /// The day by which its fluid has to be changed next, where its condition asks for that
    /// before the longest interval is over.
    pub due_by: Option<DayText>,
    /// # Downtime
    ///
    /// What a clean-out costs while the machine should work. Default: 0.
    #[schema(example = 180.0)]
    pub downtime_price: Option<Money>,
    /// # Days it stands
    ///
    /// Days of the week on which the machine stands. Default: Saturday and Sunday.
    #[schema(max_items = 7)]
    pub stands_on: Option<Vec<DayOfWeek>>,
    /// # It stands
    ///
    /// Further days on which it stands. Default: none.
    #[schema(max_items = 400)]
    pub stands: Option<Vec<DaySpan>>,
    /// # Only when it stands
    ///
    /// Whether it is cleaned out only on days on which it stands. Default: false.
    pub only_standing: Option<bool>,
    /// # Interval of today
    ///
    /// Days from one clean-out to the next by the habit of today, for the comparison. Default: the
    /// longest interval.
    #[schema(example = 90.0)]
    pub habit_days: Option<Days>,
    /// # Sludge
    ///
    /// Sludge that is dug out at a clean-out and leaves as waste. Default: 0.
    #[schema(example = 12.0)]
    pub sludge: Option<Mass>,
}

/// A product, and what fresh fluid of it costs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ProductPrice {
    /// # Name
    ///
    /// What it is called.
    #[schema(example = "product A")]
    pub name: Name,
    /// # Price of a fill
    ///
    /// What the fluid of a fill costs, concentrate and water together as they are filled in.
    #[schema(example = 0.35)]
    pub price: MoneyPerVolume,
}

/// A clean-out that is agreed already.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct AgreedCleanOut {
    /// # Sump
    ///
    /// The sump, as `sumps` calls it.
    #[schema(example = "lathe 2")]
    pub sump: Name,
    /// # Day
    ///
    /// The day that was agreed.
    #[schema(example = "2027-01-11")]
    pub day: DayText,
    /// # Fixed
    ///
    /// Whether it stays on that day whatever it costs. Default: false.
    pub fixed: Option<bool>,
}
