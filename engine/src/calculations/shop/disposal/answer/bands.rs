//! The part of the answer on how far a projection may come out otherwise.

use crate::quantity::{Count, Mass, Money, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// How far a projection may come out otherwise, given the spreads.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ProjectionBands {
    /// Number of Monte Carlo draws.
    #[schema(title = "Draws")]
    pub draws: Count,
    /// The bands of each month. Where changes fall by forecast or spreads are wide, the
    /// draws may have a change in another month than the answer has.
    #[schema(title = "By month")]
    pub months: Vec<MonthBands>,
    /// Mass of all streams over all months.
    #[schema(title = "All waste")]
    pub mass: MassBand,
    /// Mass of the counted streams over all months.
    #[schema(title = "Counted waste")]
    pub counted: MassBand,
    /// Cost over all months, without pickups; absent where no price is given.
    #[schema(title = "Cost without pickups")]
    pub cost: Option<CostBand>,
}

/// How far a month may come out otherwise.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MonthBands {
    /// The month, counted from 1.
    #[schema(title = "Month")]
    pub month: Count,
    /// Mass of all streams together.
    #[schema(title = "All waste")]
    pub mass: MassBand,
    /// Mass of the counted streams.
    #[schema(title = "Counted waste")]
    pub counted: MassBand,
    /// Cost of the month, without pickups; absent where no price is given.
    #[schema(title = "Cost without pickups")]
    pub cost: Option<CostBand>,
    /// Share of the draws that fall in each generator category.
    #[schema(title = "Generator category")]
    pub categories: CategoryShares,
}

/// Percentiles of a mass: a tenth of the draws lie below the first, half below the
/// second, nine tenths below the third.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MassBand {
    /// 10th percentile.
    #[schema(title = "1 in 10 below")]
    pub p10: Mass,
    /// Median.
    #[schema(title = "Median")]
    pub p50: Mass,
    /// 90th percentile.
    #[schema(title = "9 in 10 below")]
    pub p90: Mass,
}

/// Percentiles of a cost: a tenth of the draws lie below the first, half below the
/// second, nine tenths below the third.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostBand {
    /// 10th percentile.
    #[schema(title = "1 in 10 below")]
    pub p10: Money,
    /// Median.
    #[schema(title = "Median")]
    pub p50: Money,
    /// 90th percentile.
    #[schema(title = "9 in 10 below")]
    pub p90: Money,
}

/// Share of the draws in which a month falls in each generator category.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CategoryShares {
    /// Very small quantity generator.
    #[schema(title = "Very small")]
    pub very_small: Share,
    /// Small quantity generator.
    #[schema(title = "Small")]
    pub small: Share,
    /// Large quantity generator.
    #[schema(title = "Large")]
    pub large: Share,
}
