//! How sure an answer is: uncertainty of the request's numbers carried into the
//! answer's, for any calculation.
//!
//! *I read the refractometer to half a point and nobody measured the sump. How
//! good is the answer, and what should I measure better?*
//!
//! The calculation that gave the plain answer is run again for every draw of
//! the uncertain numbers ([`monte_carlo`](crate::numerics::monte_carlo)), and a
//! little beside the estimates for the budget
//! ([`first_order`](crate::numerics::first_order)); no formula is written twice.
//! Where the interval to first order, y ± 1.96·u_c, and that of the draws differ
//! at an end by more than δ, half of the last of the digits in which u_c is
//! stated (one digit here), first order does not hold. A difference that the
//! number of draws cannot tell from none is undecided.
//!
//! Valid for numbers that are measured or estimated, and not for counts.
//! Sources: JCGM 100:2008 (GUM), clause 5; JCGM 101:2008, clauses 6 to 8.
//!
//! # Decisions
//!
//! - **Uncertainty belongs to the envelope**, like `units`: no calculation has code for it. A document
//!   that carries it goes the thorough way. Each draw fills numbers into an open copy of the question
//!   (`document/`, a deserialiser without text), asks `calculate`, and takes the numbers out of
//!   the answer by a serialiser that keeps numbers alone (`uncertainty/walk.rs`); no formula is written twice.
//! - **A number of another draw is the same number** when its pointer is, with each list on the way as long
//!   as in the plain answer and each entry saying the same words. Else it counts as absent in that draw,
//!   and `present_in` says so. Texts are not looked at.
//! - **u has the unit of what it points at**, which no schema can say: rows `Deviation`, `Figure` and
//!   `Sensitivity` are the same in both systems, and `uncertain.rs` rescales them by the shape at the
//!   pointer, without the offset of °F.
//! - **The work is bounded by the document, never by a clock.** Without `draws`, as many are drawn (100 to 10,000) as
//!   10 million handled numbers allow, a draw being the numbers of the question, three times those of the answer, and
//!   what the calculation states in `Calculation::work`; asked for, eight times that at most. A unit is about 0.4 µs on two
//!   cores. Numbers kept are at most 10⁷. A document that asks for more is refused and told how many.
//! - **First order and Monte Carlo are compared with u to one digit** (JCGM 101, 8.1). At 10,000 draws an
//!   interval's end is itself unsure by 3 % of u; where that decides, the standing is `undecided`.
//! - **The interval is the probabilistically symmetric one**; the shortest is not offered.

use crate::numerics::distribution::DistributionShape;
use crate::quantity::{CorrelationCoefficient, Count, Deviation, DrawCount};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::collections::BTreeMap;
use utoipa::ToSchema;

mod answer;
mod by_pointer;
pub(crate) mod draws;
mod inputs;
mod numbers;
mod propagate;
mod question;
mod sampler;

pub use answer::{
    AnswerUncertainty, BudgetShare, FirstOrder, FirstOrderStanding, LargestShare, NumberUncertainty,
};
pub use by_pointer::ByPointer;
pub use inputs::Asked;
pub use propagate::{propagate, work_ahead};
pub(crate) use sampler::Sampler;

/// Where it lies in a request.
pub const POINTER: &str = "/uncertainty";
/// How often is drawn at most when the request does not say.
pub const DRAWS: usize = 10_000;
/// The fewest draws.
pub const DRAWS_LEAST: usize = 100;
/// The most draws.
pub const DRAWS_MOST: usize = 1_000_000;
/// The most uncertain inputs.
pub const INPUTS_MOST: usize = 100;
/// The most shares of uncertain inputs, of all numbers of an answer together: what is said of each has
/// to find room in it.
pub const SHARES_MOST: usize = 200_000;
/// The most numbers of an answer: of more there is no room for the fewest draws.
pub const NUMBERS_MOST: usize = draws::NUMBERS_KEPT / DRAWS_LEAST;

/// Uncertainty of numbers of the request. Every number of the answer then has its
/// standard uncertainty, its 95 % interval and its budget.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({
    "inputs": {
        "/sump/volume": { "u": 10 },
        "/sump/reading/brix": { "half_width": 0.25, "shape": "rectangular" },
    },
    "draws": 10000,
}))]
#[schema(as = RequestUncertainty)]
pub struct Uncertainty {
    /// Uncertainty of each uncertain number, by the JSON pointer of the number in this
    /// request, such as `/sump/volume`; 100 at most. A count has no uncertainty.
    pub inputs: BTreeMap<String, InputUncertainty>,
    /// Inputs that are correlated, because they come from the same instrument or the
    /// same calibration. Default: no correlation.
    pub correlations: Option<Vec<InputCorrelation>>,
    /// Number of Monte Carlo draws, from 100 to 1,000,000. Default: 10,000, or as many as
    /// can be made in a few seconds. The longer the request and its answer, and the more
    /// work lies between, the fewer are allowed; the answer says how many were made.
    pub draws: Option<DrawCount>,
    /// Seed of the random numbers: the same seed gives the same answer. Default: 1.
    pub seed: Option<Count>,
}

/// Uncertainty of one number: `u` or `half_width`, in the unit of the number itself (of
/// a temperature, degrees of its scale).
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({ "half_width": 0.25, "shape": "rectangular" }))]
pub struct InputUncertainty {
    /// The standard uncertainty: one standard deviation.
    pub u: Option<Deviation>,
    /// The most by which the number can be wrong; for the normal shape, half of the
    /// interval that holds 95 %.
    pub half_width: Option<Deviation>,
    /// Shape of its distribution. Default: normal with `u`, rectangular with
    /// `half_width`.
    pub shape: Option<DistributionShape>,
}

/// Correlation of two inputs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct InputCorrelation {
    /// JSON pointer of one of the inputs.
    #[schema(example = "/reading/factor")]
    pub first: String,
    /// JSON pointer of the other.
    #[schema(example = "/reading/water_brix")]
    pub second: String,
    /// Their correlation, from -1 to 1. Where one of them is not normal it is that
    /// of their normal scores (a Gaussian copula), which is a little more than
    /// their own.
    #[schema(example = 0.8)]
    pub coefficient: CorrelationCoefficient,
}
