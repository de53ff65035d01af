//! The inputs that the choice depends on, and the values at which another way wins.

use super::super::amount::Amount;
use crate::quantity::{Money, Number, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Sensitivity of the choice between two ways to each input.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostSensitivity {
    /// # Cheapest
    ///
    /// Way that costs least.
    #[schema(example = "treatment on site")]
    pub cheapest: String,
    /// # Next
    ///
    /// Way that costs least after it.
    #[schema(example = "recycled on site")]
    pub next: String,
    /// # Margin
    ///
    /// Difference of the two in present cost: how much less the cheapest costs.
    pub margin: Money,
    /// # Inputs varied by
    ///
    /// Share by which each input was made smaller and larger.
    pub varied_by: Share,
    /// # Choice changes
    ///
    /// Whether any one input, varied that far, makes another way the cheapest.
    pub choice_changes: bool,
    /// # Inputs
    ///
    /// Inputs that move the margin, the strongest first.
    pub inputs: Vec<InputVaried>,
}

/// Effect of varying one input.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InputVaried {
    /// # Input
    ///
    /// JSON pointer of the number in the request.
    #[schema(example = "/prices/disposal")]
    pub input: String,
    /// # In words
    ///
    /// The input in the request's own words.
    #[schema(example = "prices: disposal")]
    pub what: String,
    /// # Given
    ///
    /// Value in the request.
    pub given: Amount,
    /// # Margin when smaller
    ///
    /// Margin with the input made smaller; absent where it cannot be.
    pub margin_low: Option<Money>,
    /// # Margin when larger
    ///
    /// Margin with the input made larger; absent where it cannot be.
    pub margin_high: Option<Money>,
    /// # Change of the margin
    ///
    /// Difference between the two margins.
    pub swing: Money,
    /// # Cheapest when smaller
    ///
    /// Cheapest way with the input made smaller, where it is another.
    #[schema(example = "recycled on site")]
    pub cheapest_low: Option<String>,
    /// # Cheapest when larger
    ///
    /// Cheapest way with the input made larger, where it is another.
    #[schema(example = "recycled on site")]
    pub cheapest_high: Option<String>,
}

/// Values of an input at which two ways have the same present cost.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BreakEven {
    /// # Inputs changed
    ///
    /// JSON pointers of the numbers that were changed.
    #[schema(example = json!(["/ways/1/purchases/1/count"]))]
    pub inputs: Vec<String>,
    /// # In words
    ///
    /// The first of them in the request's own words.
    #[schema(example = "treatment on site: tend the treatment: hours")]
    pub what: String,
    /// # Given
    ///
    /// Value of the first of them in the request.
    pub given: Amount,
    /// # One way
    ///
    /// One way.
    #[schema(example = "treatment on site")]
    pub way: String,
    /// # Other way
    ///
    /// The other way.
    #[schema(example = "shared central system")]
    pub against: String,
    /// # Verdict
    ///
    /// Whether there is such a value.
    pub verdict: BreakEvenVerdict,
    /// # Break-even points
    ///
    /// Every such value that was found, the smallest first.
    pub at: Vec<BreakEvenPoint>,
    /// # Searched from
    ///
    /// Smallest value that a search in steps tried.
    pub searched_from: Option<Amount>,
    /// # Searched to
    ///
    /// Largest value that a search in steps tried.
    pub searched_to: Option<Amount>,
}

/// Whether there is a value at which two ways cost the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum BreakEvenVerdict {
    /// There is one, and the difference runs in a straight line, so there is no other.
    One,
    /// Those that a search in steps found; between two steps a pair of them can be missed.
    Found,
    /// There is none: the difference runs in a straight line that stays on one side
    /// wherever the number can be.
    None,
    /// A search in steps found none.
    NoneFound,
    /// The difference does not depend on the input.
    NoEffect,
    /// The two cost the same whatever the input is.
    AlwaysEqual,
}

/// A value at which two ways cost the same.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BreakEvenPoint {
    /// # Value
    ///
    /// Value of the first input there. Where only whole numbers make sense it lies on the
    /// straight line between the two that are given beside it. Absent where the difference
    /// jumps.
    pub value: Option<Amount>,
    /// # Times what is given
    ///
    /// The value as a multiple of what is given; absent where that is 0.
    pub factor: Option<Number>,
    /// # Whole number below
    ///
    /// Last whole number below it.
    pub whole_below: Option<Number>,
    /// # Whole number above
    ///
    /// First whole number above it.
    pub whole_above: Option<Number>,
    /// # Cheaper below
    ///
    /// Way that costs less below.
    #[schema(example = "treatment on site")]
    pub cheaper_below: String,
    /// # Cheaper above
    ///
    /// Way that costs less above.
    #[schema(example = "shared central system")]
    pub cheaper_above: String,
}
