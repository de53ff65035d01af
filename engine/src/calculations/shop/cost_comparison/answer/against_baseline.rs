//! A way of working against the baseline: savings, payback, rates, and where two cross.

use crate::quantity::{AnnualRate, Count, Money, Years};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// One way against the baseline.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct AgainstBaseline {
    /// # Savings by year
    ///
    /// Savings in each year against the baseline, from now on; negative where it costs more.
    pub saves: Vec<Money>,
    /// # Savings per year
    ///
    /// Savings as one level yearly amount.
    pub saves_per_year: Money,
    /// # Net present value
    ///
    /// Net present value of changing to it.
    pub npv: Money,
    /// # Payback
    ///
    /// Time after which its extra cost has come back.
    pub payback: PaybackTime,
    /// # Discounted payback
    ///
    /// Payback time in money of now.
    pub payback_discounted: PaybackTime,
    /// # Internal rate of return
    ///
    /// Internal rate of return of changing to it.
    pub internal_rate: InternalRate,
}

/// Time after which something has paid for itself.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PaybackTime {
    /// # Paid back after
    ///
    /// Number of years; absent where the verdict says why.
    pub years: Option<Years>,
    /// # Verdict
    ///
    /// Whether it pays for itself.
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

/// Internal rates of return of a change: the rates at which its net present value is 0.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InternalRate {
    /// # Rates
    ///
    /// Every such rate above −100 %, the lowest first. It is the return on the money only
    /// where there is exactly one; else a finding says what to make of it.
    pub rates: Vec<AnnualRate>,
    /// # Changes of sign
    ///
    /// Number of times the savings change from plus to minus or back.
    pub sign_changes: Count,
    /// # Proven complete
    ///
    /// Whether it is proven that these are all the rates there are.
    pub proven: bool,
}

/// A time at which the sums spent on two ways are the same.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostCrossing {
    /// # Equal after
    ///
    /// Years from now.
    pub years: Years,
    /// # Cheaper after
    ///
    /// Way that has cost less from then on.
    #[schema(example = "treatment on site")]
    pub cheaper_after: String,
    /// # Cheaper before
    ///
    /// Way that had cost less until then.
    #[schema(example = "pump and drums")]
    pub cheaper_before: String,
}
