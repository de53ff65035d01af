//! The uncertainty of an answer's numbers, as it is handed back.

use super::ByPointer;
use crate::quantity::{Count, Deviation, Figure, Sensitivity, Share, VarianceShare};
use crate::text::Kind;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Uncertainty of the numbers of an answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct AnswerUncertainty {
    /// Number of Monte Carlo draws.
    pub draws: Count,
    /// Seed of the random numbers: the same seed gives the same answer.
    pub seed: Count,
    /// Number of draws that had an answer. All figures below are of these alone: draws
    /// without an answer are left out, and not counted as zero.
    pub answered: Count,
    /// Number of draws that had no answer, by reason.
    pub refused: RefusedDraws,
    /// Share of the answered draws that lies within each interval. Equal shares lie
    /// below and above it (the probabilistically symmetric interval).
    pub coverage: Share,
    /// For each number of the answer, by its JSON pointer in this document.
    #[schema(value_type = BTreeMap<String, NumberUncertainty>)]
    pub numbers: ByPointer<NumberUncertainty>,
}

/// Number of draws that had no answer, by reason. Default: 0.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RefusedDraws {
    /// A number was drawn that is impossible, such as a negative volume, or outside a
    /// published table.
    pub out_of_range: Option<Count>,
    /// The numbers drawn contradict each other, such as more in a sump than it holds.
    pub inconsistent: Option<Count>,
    /// The target cannot be reached with the numbers drawn.
    pub unreachable: Option<Count>,
    /// The numbers drawn leave open what was asked.
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

/// Uncertainty of one number of an answer.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NumberUncertainty {
    /// The number as the answer has it.
    pub value: Figure,
    /// Number of answered draws that have this number. With fewer than 40 no figures
    /// of the draws are given.
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
    /// Whether it agrees with the draws.
    pub standing: FirstOrderStanding,
    /// What each input contributes, by its JSON pointer in the request, the largest
    /// share first.
    #[schema(value_type = BTreeMap<String, BudgetShare>)]
    pub budget: ByPointer<BudgetShare>,
}

/// Whether first-order propagation agrees with the draws, by JCGM 101, 8.1.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FirstOrderStanding {
    /// Both intervals agree within the tolerance.
    Agrees,
    /// They do not: use the interval of the draws, and take the budget as a hint.
    Disagrees,
    /// There are too few draws to tell.
    Undecided,
}

/// What one input contributes to the uncertainty of a number.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct BudgetShare {
    /// Change of the number when the input grows by one unit.
    pub sensitivity: Sensitivity,
    /// The input's share of the number's variance.
    pub share: VarianceShare,
}
