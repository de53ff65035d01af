//! Who cleans out, and spans of days.

use crate::dynamics::working_calendar::DayOfWeek;
use crate::quantity::{Capacity, Hours, MoneyPerHour};
use crate::text::{DayText, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Who cleans out, on which days and for how many hours.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CleaningCrew {
    /// # Crew
    ///
    /// What it is called in the shop.
    #[schema(example = "morning shift")]
    pub name: Name,
    /// # Works on
    ///
    /// Days of the week on which it has time for clean-outs. Default: Monday to Friday.
    #[schema(max_items = 7)]
    pub works_on: Option<Vec<DayOfWeek>>,
    /// # Hours a day
    ///
    /// Working hours for clean-outs on each of these days, of all its people together.
    #[schema(example = 6.0)]
    pub hours_a_day: Hours,
    /// # Hours a week
    ///
    /// Working hours for clean-outs in a week, Monday to Sunday. Default: those of its days.
    #[schema(example = 16.0)]
    pub hours_a_week: Option<Hours>,
    /// # Fluid a day
    ///
    /// Drained fluid that its vessels carry away in a day. Default: no limit.
    #[schema(example = 1200.0)]
    pub fluid_a_day: Option<Capacity>,
    /// # Price of an hour
    ///
    /// What an hour of its work costs. Default: 0.
    #[schema(example = 42.0)]
    pub price: Option<MoneyPerHour>,
    /// # Away
    ///
    /// Days on which it is away. Default: none.
    #[schema(max_items = 400)]
    pub away: Option<Vec<DaySpan>>,
}

/// Days from one to another.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DaySpan {
    /// # From
    ///
    /// The first day.
    #[schema(example = "2027-03-26")]
    pub from: DayText,
    /// # To
    ///
    /// The last day. Default: the first day.
    #[schema(example = "2027-03-29")]
    pub to: Option<DayText>,
}
