//! What a comparison of ways of working comes to.

mod against_baseline;
mod what_if;

pub use against_baseline::{AgainstBaseline, Crossing, InternalRate, PaybackTime, PaybackVerdict};
pub use what_if::{BreakEven, BreakEvenPoint, BreakEvenVerdict, HangsOn, InputVaried};

use crate::quantity::{Count, Money, Number, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What each way of working costs, and what the choice hangs on.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostComparisonAnswer {
    /// The currency, as it was given.
    #[schema(example = "dollars")]
    pub currency: Option<String>,
    /// How many machines the shop has.
    pub machines: Count,
    /// The way of working that the others are held against.
    #[schema(example = "pump and drums")]
    pub baseline: String,
    /// The way that costs least over the whole time.
    #[schema(example = "treatment on site")]
    pub cheapest: String,
    /// The ways, in the order of the request.
    pub ways: Vec<WayCost>,
    /// When the sums spent on two ways are the same, in the order of time.
    pub crossings: Vec<Crossing>,
    /// The cheapest way against the next: the inputs that move the difference,
    /// the strongest first. Absent where there is one way only, or where the
    /// request has too many numbers to vary each.
    pub hangs_on: Option<HangsOn>,
    /// Where two ways cost the same, a line for each question.
    pub break_even: Vec<BreakEven>,
}

/// What one way costs.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WayCost {
    /// The way.
    #[schema(example = "treatment on site")]
    pub name: String,
    /// What it costs in a year by heading: the level yearly amount that is worth
    /// as much as all that is spent over the whole time.
    pub yearly: ByHeading,
    /// What it costs in a year, all headings together.
    pub yearly_cost: Money,
    /// The same for each machine.
    pub yearly_cost_a_machine: Money,
    /// What is bought right now.
    pub outlay: Money,
    /// All that is spent over the whole time, in money of now.
    pub present_cost: Money,
    /// The fluid of a year, each figure as in the row of the balance of the same name.
    pub fluid: FluidOfAYear,
    /// What is spent in each year, from now on.
    pub years: Vec<YearOfCosts>,
    /// How it compares with the baseline; absent for the baseline itself.
    pub against_baseline: Option<AgainstBaseline>,
}

/// Money by what it is spent on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ByHeading {
    /// What is bought, less what it is still worth.
    pub purchases: Money,
    /// The crew's work.
    pub labour: Money,
    /// Machines that stand.
    pub downtime: Money,
    /// Concentrate.
    pub concentrate: Money,
    /// Water.
    pub water: Money,
    /// Spent fluid taken away.
    pub disposal: Money,
    /// Filter media.
    pub filter_media: Money,
    /// Electricity and fuel.
    pub energy: Money,
    /// Upkeep by running hours.
    pub upkeep: Money,
    /// What is paid to others.
    pub fees: Money,
}

/// The fluid that one way moves in a year.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FluidOfAYear {
    /// Clean-outs of all machines.
    pub clean_outs: Number,
    /// Neat concentrate bought.
    pub concentrate: Volume,
    /// Water used.
    pub water: Volume,
    /// Spent fluid and wash water taken away.
    pub disposed: Volume,
    /// Fluid cleaned and put back.
    pub recovered: Volume,
}

/// One year of one way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct YearOfCosts {
    /// Years from now: 0 is now, 1 the end of the first year.
    pub year: Count,
    /// What is bought then, less what is won for what it replaces, or at the end
    /// for what is left.
    pub purchases: Money,
    /// All else that is spent in the year.
    pub running: Money,
    /// All that has been spent so far.
    pub spent: Money,
    /// The same in money of now.
    pub spent_discounted: Money,
}
