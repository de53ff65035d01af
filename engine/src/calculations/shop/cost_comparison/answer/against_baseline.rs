//! What a way of working comes to beside the way in use: money back, and where two cross.

use crate::quantity::{AnnualRate, Count, Money, Years};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use std::borrow::Cow;
use utoipa::ToSchema;

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
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PaybackTime {
    /// After how many years; absent where the verdict says why.
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
#[skip_serializing_none]
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
    pub note: Option<Cow<'static, str>>,
}

/// Where the sums spent on two ways cross.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Crossing {
    /// After how many years.
    pub years: Years,
    /// The way that has cost less from then on.
    #[schema(example = "treatment on site")]
    pub cheaper_after: String,
    /// The way that had cost less until then.
    #[schema(example = "pump and drums")]
    pub cheaper_before: String,
}
