//! How uncertain deliveries of dirty fluid are.

use crate::quantity::{Count, DrawCount, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Uncertainty of deliveries: each is its volume times a factor of its own with a mean of 1.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DeliverySpread {
    /// # Standard deviation
    ///
    /// Standard deviation of a delivery, as a share of its volume.
    #[schema(example = 20.0)]
    pub share: Share,
    /// # Distribution
    ///
    /// Distribution of the factor. Default: `lognormal`.
    pub distribution: Option<DeliveryDistribution>,
    /// # Start of the draws
    ///
    /// Number that the Monte Carlo draws begin with, their seed: the same one gives the same
    /// answer. Default: 1.
    #[schema(example = 7)]
    pub seed: Option<Count>,
    /// # Draws
    ///
    /// Number of Monte Carlo draws, 100 to 1,000,000. Default: 10,000, or fewer where the
    /// plan is long.
    pub draws: Option<DrawCount>,
}

/// Distribution of the factor of an uncertain delivery.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DeliveryDistribution {
    /// The logarithm is normal: never below 0, and sometimes far above the mean.
    Lognormal,
    /// Either one standard deviation above the mean or one below it, each as likely.
    TwoPoint,
}
