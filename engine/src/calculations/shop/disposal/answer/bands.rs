//! The part of the answer on how far a projection may come out otherwise.

use crate::quantity::{Count, Mass, Money, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// How far a projection may come out otherwise, given the spreads.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ProjectionBands {
    /// # Draws
    ///
    /// Number of Monte Carlo draws.
    pub draws: Count,
    /// # By month
    ///
    /// The bands of each month. Where changes fall by forecast or spreads are wide, the
    /// draws may have a change in another month than the answer has.
    pub months: Vec<MonthBands>,
    /// # All waste
    ///
    /// Mass of all streams over all months.
    pub mass: MassBand,
    /// # Counted waste
    ///
    /// Mass of the counted streams over all months.
    pub counted: MassBand,
    /// # Cost without pickups
    ///
    /// Cost over all months, without pickups; absent where no price is given.
    pub cost: Option<CostBand>,
}

/// How far a month may come out otherwise.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MonthBands {
    /// # Month
    ///
    /// The month, counted from 1.
    pub month: Count,
    /// # All waste
    ///
    /// Mass of all streams together.
    pub mass: MassBand,
    /// # Counted waste
    ///
    /// Mass of the counted streams.
    pub counted: MassBand,
    /// # Cost without pickups
    ///
    /// Cost of the month, without pickups; absent where no price is given.
    pub cost: Option<CostBand>,
    /// # Generator category
    ///
    /// Share of the draws that fall in each generator category.
    pub categories: CategoryShares,
}

/// Percentiles of a mass: a tenth of the draws lie below the first, half below the
/// second, nine tenths below the third.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MassBand {
    /// # Lower tenth
    ///
    /// 10th percentile.
    pub p10: Mass,
    /// # Median
    ///
    /// Median.
    pub p50: Mass,
    /// # Upper tenth
    ///
    /// 90th percentile.
    pub p90: Mass,
}

/// Percentiles of a cost: a tenth of the draws lie below the first, half below the
/// second, nine tenths below the third.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostBand {
    /// # Lower tenth
    ///
    /// 10th percentile.
    pub p10: Money,
    /// # Median
    ///
    /// Median.
    pub p50: Money,
    /// # Upper tenth
    ///
    /// 90th percentile.
    pub p90: Money,
}

/// Share of the draws in which a month falls in each generator category.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CategoryShares {
    /// # Very small
    ///
    /// Very small quantity generator.
    pub very_small: Share,
    /// # Small
    ///
    /// Small quantity generator.
    pub small: Share,
    /// # Large
    ///
    /// Large quantity generator.
    pub large: Share,
}
