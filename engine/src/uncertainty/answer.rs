//! What is said of how sure an answer is.

use super::ByPointer;
use crate::quantity::{Count, Deviation, Figure, Sensitivity, Share, VarianceShare};
use crate::text::Kind;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// How sure the numbers of an answer are.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct AnswerUncertainty {
    /// How often was drawn.
    pub draws: Count,
    /// What the draws began from.
    pub seed: Count,
    /// How many draws had an answer. All figures below are of these alone: what
    /// cannot be is left out of the distributions, and not counted as zero.
    pub answered: Count,
    /// How many draws had no answer, by the reason.
    pub refused: RefusedDraws,
    /// What part of the answered draws each interval holds. As much lies below it
    /// as above it (the probabilistically symmetric interval).
    pub coverage: Share,
    /// For each number of the answer, by its JSON pointer in this document.
    #[schema(value_type = BTreeMap<String, NumberUncertainty>)]
    pub numbers: ByPointer<NumberUncertainty>,
}

/// Draws that had no answer, by the reason; none of a reason that is left out.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RefusedDraws {
    /// A number was drawn that cannot be, such as a negative volume, or that a
    /// published table does not cover.
    pub out_of_range: Option<Count>,
    /// The numbers drawn contradict each other, such as more in a sump than it holds.
    pub inconsistent: Option<Count>,
    /// With the numbers drawn nothing reaches the target.
    pub unreachable: Option<Count>,
    /// The numbers drawn cannot tell what was asked.
    pub not_identifiable: Option<Count>,
    /// An answer was found but could not be proven.
    pub unproven: Option<Count>,
}

impl RefusedDraws {
    /// Where refusals of this kind are counted.
    pub(super) fn of_kind(&mut self, kind: Kind) -> &mut Option<Count> {
        match kind {
            Kind::OutOfRange => &mut self.out_of_range,
            Kind::Inconsistent => &mut self.inconsistent,
            Kind::Unreachable => &mut self.unreachable,
            Kind::NotIdentifiable => &mut self.not_identifiable,
            Kind::Unproven => &mut self.unproven,
        }
    }
}

/// How sure one number of an answer is.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NumberUncertainty {
    /// The number as the answer has it.
    pub value: Figure,
    /// In how many of the answered draws there was such a number. With fewer than
    /// 40 nothing more is said of the draws.
    pub present_in: Count,
    /// The mean of the draws.
    pub mean: Option<Figure>,
    /// Its standard uncertainty: the standard deviation of the draws.
    pub u: Option<Deviation>,
    /// The lower end of its 95 % interval.
    pub low: Option<Figure>,
    /// The upper end of its 95 % interval.
    pub high: Option<Figure>,
    /// Half of the 95 % interval: what stands behind ±.
    pub half_width: Option<Deviation>,
    /// The input that makes the largest share of the variance: what to measure
    /// better; absent where no input has one.
    pub largest: Option<LargestShare>,
    /// The same by first-order propagation; absent where the number cannot be had
    /// beside the estimates.
    pub first_order: Option<FirstOrder>,
}

/// The input that makes the largest share of a variance.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LargestShare {
    /// JSON pointer of the input in the request.
    #[schema(example = "/sump/volume")]
    pub pointer: String,
    /// Its share of the variance.
    pub share: VarianceShare,
}

/// Uncertainty by first-order propagation (GUM), with its budget.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FirstOrder {
    /// The combined standard uncertainty.
    pub u: Deviation,
    /// How it stands against the draws.
    pub standing: FirstOrderStanding,
    /// What each input does, by its JSON pointer in the request, the largest share
    /// first.
    #[schema(value_type = BTreeMap<String, BudgetShare>)]
    pub budget: ByPointer<BudgetShare>,
}

/// How first-order propagation stands against the draws, by JCGM 101, 8.1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FirstOrderStanding {
    /// Both intervals agree within the tolerance.
    Agrees,
    /// They do not: trust the interval of the draws, and take the budget as a hint.
    Disagrees,
    /// There are too few draws to tell.
    Undecided,
}

/// What one input does to a number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BudgetShare {
    /// How much the number changes when the input grows by one of its unit.
    pub sensitivity: Sensitivity,
    /// The input's share of the number's variance.
    pub share: VarianceShare,
}
