//! The question: a batch to make, and the stocks to make it from.

use crate::fluid::batch::Goal;
use crate::fluid::properties::Limits;
use crate::fluid::stock::Stock;
use crate::quantity::{Capacity, Concentration};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A batch to make, and the stocks to make it from.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Blend {
    /// # Batch
    ///
    /// The batch to make.
    pub target: BatchTarget,
    /// # Stocks
    ///
    /// What there is to mix from, most preferred first.
    pub stocks: Vec<Stock>,
    /// # Limits
    ///
    /// Limits on what the batch carries. The stocks say what they carry. Default: none.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// # Prefer
    ///
    /// What to prefer where several batches would do. Default: the least cost.
    pub goal: Option<Goal>,
    /// # Measured out to
    ///
    /// What the amounts are measured out to, for instance half a litre. Default: by their
    /// size.
    #[schema(example = 0.5)]
    pub measures_to: Option<Capacity>,
}

/// The batch to make.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BatchTarget {
    /// # Make
    ///
    /// Volume to make.
    #[schema(example = 800.0)]
    pub volume: Capacity,
    /// # Strength
    ///
    /// Strength to make it to.
    #[schema(example = 6.0)]
    pub concentration: Concentration,
}
