//! What a comparison of ways of working comes to.

use super::amount::Amount;
use crate::quantity::{AnnualRate, Count, Money, Number, Share, Volume, Years};
use serde::{Deserialize, Serialize};
use std::borrow::Cow;
use utoipa::ToSchema;

/// What each way of working costs, and what the choice hangs on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostComparisonAnswer {
    /// The currency, as it was given.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = "dollars")]
    pub currency: Option<String>,
    /// How many machines the shop has.
    pub machines: Count,
    /// The way of working that the others are held against.
    #[schema(example = "by hand, by the calendar")]
    pub baseline: String,
    /// The way that costs least over the whole time.
    #[schema(example = "powered, plug-in")]
    pub cheapest: String,
    /// The ways, in the order of the request.
    pub ways: Vec<WayCost>,
    /// When the sums spent on two ways are the same, in the order of time.
    pub crossings: Vec<Crossing>,
    /// The cheapest way against the next: the inputs that move the difference,
    /// the strongest first. Absent where there is one way only, or where the
    /// request has too many numbers to vary each.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub hangs_on: Option<HangsOn>,
    /// Where two ways cost the same, a line for each question.
    pub break_even: Vec<BreakEven>,
}

/// What one way costs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WayCost {
    /// The way.
    #[schema(example = "powered, plug-in")]
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
    #[serde(skip_serializing_if = "Option::is_none", default)]
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

/// One way against the baseline.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct AgainstBaseline {
    /// What it saves in each year against the baseline, from now on; negative
    /// where it costs more.
    pub saves: Vec<Money>,
    /// The same as one level yearly amount.
    pub saves_a_year: Money,
    /// Net present value of changing to it.
    pub npv: Money,
    /// When what it costs more has come back.
    pub payback: PaybackTime,
    /// The same in money of now.
    pub payback_discounted: PaybackTime,
    /// At which rates its net present value is nothing.
    pub internal_rate: InternalRate,
}

/// When something has paid for itself.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PaybackTime {
    /// After how many years; absent where the verdict says why.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub years: Option<Years>,
    /// Whether it does.
    pub verdict: PaybackVerdict,
}

/// Whether something pays for itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PaybackVerdict {
    /// It does, and stays ahead.
    PaysBack,
    /// It does, and falls behind again when something is replaced.
    PaysBackForATime,
    /// It is never behind, so there is nothing to pay back.
    NothingToPayBack,
    /// It is still behind at the end of the comparison.
    NotWithinTheYears,
}

/// At which rates the net present value of a change is nothing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InternalRate {
    /// Every such rate above −100 %, the lowest first. Only where there is one
    /// is it the return on the money.
    pub rates: Vec<AnnualRate>,
    /// How often the savings change from plus to minus or back.
    pub sign_changes: Count,
    /// Whether it is proven that these are all the rates there are.
    pub proven: bool,
    /// What to make of it, where there is not exactly one.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub note: Option<Cow<'static, str>>,
}

/// Where the sums spent on two ways cross.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Crossing {
    /// After how many years.
    pub years: Years,
    /// The way that has cost less from then on.
    #[schema(example = "powered, plug-in")]
    pub cheaper_after: String,
    /// The way that had cost less until then.
    #[schema(example = "by hand, by the calendar")]
    pub cheaper_before: String,
}

/// What the choice between two ways hangs on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HangsOn {
    /// The way that costs least.
    #[schema(example = "powered, plug-in")]
    pub cheapest: String,
    /// The way that costs least but for it.
    #[schema(example = "recycled on site")]
    pub next: String,
    /// How much less the cheapest costs than the next, in money of now.
    pub margin: Money,
    /// By which share each input was made smaller and larger.
    pub varied_by: Share,
    /// Whether any input, varied so far by itself, makes another way the cheapest.
    pub flips: bool,
    /// The inputs that move the margin, the strongest first.
    pub inputs: Vec<InputVaried>,
}

/// What comes of varying one input.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InputVaried {
    /// The number in the request, as a JSON pointer.
    #[schema(example = "/prices/disposal")]
    pub input: String,
    /// The same in the request's own words.
    #[schema(example = "prices: disposal")]
    pub what: String,
    /// What it is.
    pub given: Amount,
    /// The margin with the input made smaller; absent where it cannot be.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub margin_low: Option<Money>,
    /// The margin with the input made larger; absent where it cannot be.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub margin_high: Option<Money>,
    /// How far the margin moves from one to the other.
    pub swing: Money,
    /// The way that is the cheapest with the input made smaller, where it is another.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = "recycled on site")]
    pub cheapest_low: Option<String>,
    /// The way that is the cheapest with the input made larger, where it is another.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = "recycled on site")]
    pub cheapest_high: Option<String>,
}

/// Where two ways cost the same over the whole time, in money of now.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BreakEven {
    /// The numbers that were changed, as JSON pointers.
    #[schema(example = json!(["/ways/1/purchases/1/count"]))]
    pub inputs: Vec<String>,
    /// The first of them in the request's own words.
    #[schema(example = "powered, plug-in: outlets: count")]
    pub what: String,
    /// What the first of them is.
    pub given: Amount,
    /// The one way.
    #[schema(example = "powered, plug-in")]
    pub way: String,
    /// The other.
    #[schema(example = "powered, fuelled")]
    pub against: String,
    /// Whether there is such a number.
    pub verdict: BreakEvenVerdict,
    /// Every such number that was found, the smallest first.
    pub at: Vec<BreakEvenPoint>,
    /// The smallest number that a search in steps looked at.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub searched_from: Option<Amount>,
    /// The largest number that a search in steps looked at.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub searched_to: Option<Amount>,
}

/// Whether there is a number at which two ways cost the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum BreakEvenVerdict {
    /// There is one, and the difference runs in a straight line, so there is no other.
    One,
    /// Those that a search in steps found; between two steps a pair of them can
    /// be missed.
    Found,
    /// There is none: the difference runs in a straight line that stays on one
    /// side wherever the number can be.
    None,
    /// A search in steps found none.
    NoneFound,
    /// The difference does not depend on the input.
    NoEffect,
    /// The two cost the same whatever the input is.
    AlwaysEqual,
}

/// A number at which two ways cost the same.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BreakEvenPoint {
    /// The first input there. Where only whole numbers make sense it lies on the
    /// straight line between the two that are given beside it. Absent where the
    /// difference jumps.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub value: Option<Amount>,
    /// The same as a multiple of what is given; absent where that is 0.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub factor: Option<Number>,
    /// The last whole number below it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub whole_below: Option<Number>,
    /// The first whole number above it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub whole_above: Option<Number>,
    /// The way that costs less below.
    #[schema(example = "powered, plug-in")]
    pub cheaper_below: String,
    /// The way that costs less above.
    #[schema(example = "powered, fuelled")]
    pub cheaper_above: String,
}
