//! How uncertain deliveries of dirty fluid are.

use crate::quantity::{Count, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// How uncertain deliveries are: each is its volume times a factor of its own
/// with a mean of 1.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Spread {
    /// The standard deviation of a delivery, as a share of its volume.
    #[schema(example = 20.0)]
    pub share: Share,
    /// How the factor is distributed; lognormal when left out.
    pub distribution: Option<Distribution>,
    /// Seed of the Monte Carlo draws: the same seed gives the same answer. Default: 1.
    #[schema(example = 7)]
    pub seed: Option<Count>,
    /// Number of Monte Carlo draws, 100 to 1,000,000. Default: 10,000, or fewer where the
    /// plan is long.
    pub draws: Option<Count>,
}

/// How the factor of an uncertain delivery is distributed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Distribution {
    /// The logarithm is normal: never below nothing, and sometimes far above
    /// the mean.
    Lognormal,
    /// As likely one standard deviation above the mean as below it, and
    /// nothing between.
    TwoPoint,
}
