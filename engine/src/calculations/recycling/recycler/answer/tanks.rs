//! The levels of the tanks by day, when they fail, and the smallest that do.

use crate::quantity::{Count, Days, Share, Throughput, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The levels of both tanks at a time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TankLevels {
    /// # Day
    ///
    /// Time in days from the start of the plan.
    pub day: Days,
    /// # Dirty tank
    ///
    /// Volume in the dirty tank.
    pub dirty: Volume,
    /// # Clean tank
    ///
    /// Volume in the clean tank.
    pub clean: Volume,
}

/// A tank that runs over or runs short.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TankFailure {
    /// # From day
    ///
    /// Time at which it begins, in days from the start of the plan.
    pub day: Days,
    /// # Volume in all
    ///
    /// Volume that runs over, or is missing, in the whole plan.
    pub volume: Volume,
}

/// Smallest tanks and throughput, each by itself with the others as they are.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SmallestPlant {
    /// # Dirty tank
    ///
    /// Smallest dirty tank that never runs over.
    pub dirty: Volume,
    /// # Clean tank
    ///
    /// Smallest clean tank that never has too little, where the dirty tank is large enough.
    /// Absent where no clean tank is enough.
    pub clean: Option<Volume>,
    /// # Throughput
    ///
    /// Smallest throughput of the whole recycler with which neither tank fails, the stages
    /// removing what they remove now. Absent where none is enough, without tanks, or where
    /// something keeps coming into the batch.
    pub throughput: Option<Throughput>,
}

/// How likely the dirty tank is to run over.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OverflowRisk {
    /// In how many of the draws it runs over, as a share.
    pub probability: Share,
    /// The standard error of that share, from the number of draws alone.
    pub standard_error: Share,
    /// With 95 % confidence it is no less (exact binomial interval).
    pub at_least: Share,
    /// With 95 % confidence it is no more.
    pub at_most: Share,
    /// Number of Monte Carlo draws.
    pub draws: Count,
    /// The dirty tank that is large enough in 95 of 100 draws.
    pub large_enough_in_95: Volume,
}
