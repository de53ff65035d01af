//! The question: the sumps of a shop, who cleans them, what that goes through, and what is agreed.

mod crews;
mod leaving;
mod sumps;

pub use crews::{CleaningCrew, DaySpan};
pub use leaving::{CategoryPrices, RecyclerInCalendar, WasteInCalendar};
pub use sumps::{AgreedCleanOut, ProductPrice, SumpInCalendar};

use crate::quantity::{Count, Days, Money};
use crate::text::{DayText, Name};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The sumps of a shop, who cleans them out, what the fluid goes through, and what is agreed
/// already.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Calendar {
    /// # First day
    ///
    /// The day on which the plan begins.
    #[schema(example = "2027-01-04")]
    pub from: DayText,
    /// # Weeks ahead
    ///
    /// How many weeks to plan, 1 to 104. Default: 52.
    #[schema(example = 26)]
    pub weeks: Option<Count>,
    /// # Sumps
    ///
    /// The sumps that are cleaned out.
    pub sumps: Vec<SumpInCalendar>,
    /// # Crews
    ///
    /// Who cleans out, on which days and for how many hours. A clean-out is done by one crew on
    /// one day.
    #[schema(max_items = 20)]
    pub crews: Vec<CleaningCrew>,
    /// # Shop closed
    ///
    /// Days on which nobody works and nothing runs. Default: none.
    #[schema(max_items = 400)]
    pub closed: Option<Vec<DaySpan>>,
    /// # Machines stand
    ///
    /// Days on which every machine stands although crews work: a shutdown. A clean-out then
    /// costs no downtime. Default: none.
    #[schema(max_items = 400)]
    pub standing: Option<Vec<DaySpan>>,
    /// # Products
    ///
    /// What fresh fluid of each product costs. Default: nothing.
    #[schema(max_items = 200)]
    pub products: Option<Vec<ProductPrice>>,
    /// # Recycler
    ///
    /// The tank that all drained fluid goes into, and the recycler that empties it. Default: all
    /// drained fluid is waste at once.
    pub recycler: Option<RecyclerInCalendar>,
    /// # Waste
    ///
    /// What waste costs, and what the shop may have of it. Default: no price and no limit.
    pub waste: Option<WasteInCalendar>,
    /// # Plan agreed
    ///
    /// Clean-outs of a plan that is agreed already. One that is moved costs the price of moving.
    /// Default: none.
    pub agreed: Option<Vec<AgreedCleanOut>>,
    /// # Price of moving
    ///
    /// What it is worth to leave an agreed clean-out on its day. Default: half of what that
    /// clean-out itself costs at its dearest.
    #[schema(example = 200.0)]
    pub moving_price: Option<Money>,
    /// # Overdue ones within
    ///
    /// Days within which a sump is cleaned out whose interval is over when the plan begins.
    /// Default: 14.
    #[schema(example = 10.0)]
    pub overdue_within_days: Option<Days>,
    /// # Currency
    ///
    /// Currency of the prices, handed back as it is.
    pub currency: Option<Name>,
}
