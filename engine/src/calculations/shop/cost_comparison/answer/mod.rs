//! The answer of a comparison of ways of working.

mod against_baseline;
mod what_if;

pub use against_baseline::{
    AgainstBaseline, CostCrossing, InternalRate, PaybackTime, PaybackVerdict,
};
pub use what_if::{BreakEven, BreakEvenPoint, BreakEvenVerdict, CostSensitivity, InputVaried};

use crate::quantity::{Count, Money, Number, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Cost of each way of working, and what the choice depends on.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostComparisonAnswer {
    /// # Currency
    ///
    /// Currency, as the request named it.
    #[schema(example = "dollars")]
    pub currency: Option<String>,
    /// # Machines
    ///
    /// Number of machines in the shop.
    pub machines: Count,
    /// # Compared with
    ///
    /// Way of working that the others are compared with.
    #[schema(example = "pump and drums")]
    pub baseline: String,
    /// # Cheapest
    ///
    /// Way that costs least over the whole time.
    #[schema(example = "treatment on site")]
    pub cheapest: String,
    /// # Ways of working
    ///
    /// The ways, in the order of the request.
    pub ways: Vec<WayCost>,
    /// # Sums spent are equal
    ///
    /// Times at which the sums spent on two ways are the same, the earliest first.
    pub crossings: Vec<CostCrossing>,
    /// # Sensitivity
    ///
    /// Sensitivity of the difference between the cheapest way and the next. Absent where
    /// there is one way only, or where the request has too many numbers to vary each.
    pub sensitivity: Option<CostSensitivity>,
    /// # Break-even points
    ///
    /// Break-even points of two ways, one entry for each question.
    pub break_even: Vec<BreakEven>,
}

/// Cost of one way of working.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WayCost {
    /// # Way of working
    ///
    /// The way.
    #[schema(example = "treatment on site")]
    pub name: String,
    /// # Cost per year
    ///
    /// Cost per year: the level yearly amount that is worth as much as all that is spent
    /// over the whole time.
    pub cost_per_year: Money,
    /// # By heading
    ///
    /// The cost per year by heading.
    pub cost_per_year_by_heading: CostByHeading,
    /// # Cost per year and machine
    ///
    /// Cost per year and machine.
    pub cost_per_year_per_machine: Money,
    /// # To buy now
    ///
    /// Purchases right now.
    pub outlay: Money,
    /// # Present cost
    ///
    /// Present cost: all that is spent over the whole time, in money of now.
    pub present_cost: Money,
    /// # Fluid per year
    ///
    /// Fluid per year; each figure is that of the balance's row of the same name.
    pub fluid: FluidPerYear,
    /// # By year
    ///
    /// Costs of each year, from now on.
    pub years: Vec<YearOfCosts>,
    /// # Against the baseline
    ///
    /// Comparison with the baseline; absent for the baseline itself.
    pub against_baseline: Option<AgainstBaseline>,
}

/// Money by what it is spent on.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostByHeading {
    /// # Purchases
    ///
    /// Purchases, less what they are still worth.
    pub purchases: Money,
    /// # Labour
    ///
    /// The crew's work.
    pub labour: Money,
    /// # Downtime
    ///
    /// Machines that stand idle.
    pub downtime: Money,
    /// # Concentrate
    ///
    /// Concentrate.
    pub concentrate: Money,
    /// # Water
    ///
    /// Water.
    pub water: Money,
    /// # Disposal
    ///
    /// Spent fluid taken away.
    pub disposal: Money,
    /// # Filter media
    ///
    /// Filter media.
    pub filter_media: Money,
    /// # Energy
    ///
    /// Electricity and fuel.
    pub energy: Money,
    /// # Upkeep
    ///
    /// Upkeep by running hours.
    pub upkeep: Money,
    /// # Fees
    ///
    /// Fees paid to others.
    pub fees: Money,
}

/// Fluid that one way moves per year.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FluidPerYear {
    /// # Clean-outs
    ///
    /// Clean-outs of all machines.
    pub clean_outs: Number,
    /// # Concentrate bought
    ///
    /// Neat concentrate bought.
    pub concentrate: Volume,
    /// # Water used
    ///
    /// Water used.
    pub water: Volume,
    /// # Taken away
    ///
    /// Spent fluid and wash water taken away.
    pub disposed: Volume,
    /// # Put back
    ///
    /// Fluid cleaned and put back.
    pub recovered: Volume,
}

/// One year of one way.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct YearOfCosts {
    /// # Year
    ///
    /// Years from now: 0 is now, 1 the end of the first year.
    pub year: Count,
    /// # Purchases
    ///
    /// Purchases then, less what is won for what they replace, or at the end for what is
    /// left.
    pub purchases: Money,
    /// # Other costs
    ///
    /// All other costs of the year.
    pub running: Money,
    /// # Spent so far
    ///
    /// Sum spent so far.
    pub spent: Money,
    /// # Spent so far, discounted
    ///
    /// Sum spent so far, in money of now.
    pub spent_discounted: Money,
}
