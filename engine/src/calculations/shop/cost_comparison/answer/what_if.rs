//! What a comparison hangs on, and from where another way wins.

use super::super::amount::Amount;
use crate::quantity::{Money, Number, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What the choice between two ways hangs on.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HangsOn {
    /// The way that costs least.
    #[schema(example = "treatment on site")]
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
#[skip_serializing_none]
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
    pub margin_low: Option<Money>,
    /// The margin with the input made larger; absent where it cannot be.
    pub margin_high: Option<Money>,
    /// How far the margin moves from one to the other.
    pub swing: Money,
    /// The way that is the cheapest with the input made smaller, where it is another.
    #[schema(example = "recycled on site")]
    pub cheapest_low: Option<String>,
    /// The way that is the cheapest with the input made larger, where it is another.
    #[schema(example = "recycled on site")]
    pub cheapest_high: Option<String>,
}

/// Where two ways cost the same over the whole time, in money of now.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BreakEven {
    /// The numbers that were changed, as JSON pointers.
    #[schema(example = json!(["/ways/1/purchases/1/count"]))]
    pub inputs: Vec<String>,
    /// The first of them in the request's own words.
    #[schema(example = "treatment on site: tend the treatment: hours")]
    pub what: String,
    /// What the first of them is.
    pub given: Amount,
    /// The one way.
    #[schema(example = "treatment on site")]
    pub way: String,
    /// The other.
    #[schema(example = "shared central system")]
    pub against: String,
    /// Whether there is such a number.
    pub verdict: BreakEvenVerdict,
    /// Every such number that was found, the smallest first.
    pub at: Vec<BreakEvenPoint>,
    /// The smallest number that a search in steps looked at.
    pub searched_from: Option<Amount>,
    /// The largest number that a search in steps looked at.
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
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BreakEvenPoint {
    /// The first input there. Where only whole numbers make sense it lies on the
    /// straight line between the two that are given beside it. Absent where the
    /// difference jumps.
    pub value: Option<Amount>,
    /// The same as a multiple of what is given; absent where that is 0.
    pub factor: Option<Number>,
    /// The last whole number below it.
    pub whole_below: Option<Number>,
    /// The first whole number above it.
    pub whole_above: Option<Number>,
    /// The way that costs less below.
    #[schema(example = "treatment on site")]
    pub cheaper_below: String,
    /// The way that costs less above.
    #[schema(example = "shared central system")]
    pub cheaper_above: String,
}
