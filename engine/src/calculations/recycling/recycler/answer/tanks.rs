//! The levels of the tanks by day, their mishaps, and the smallest that do.

use crate::quantity::{Count, Days, Share, Throughput, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The levels of both tanks at a time.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Levels {
    /// When, in days from the start of the plan.
    pub day: Days,
    /// What is in the dirty tank.
    pub dirty: Volume,
    /// What is in the clean tank.
    pub clean: Volume,
}

/// A tank that runs over or runs short.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TankEvent {
    /// When it begins, in days from the start of the plan.
    pub day: Days,
    /// How much runs over, or is missing, through the whole plan.
    pub volume: Volume,
}

/// How large tanks and recycler have to be, each by itself with the others as
/// they are.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Smallest {
    /// The smallest dirty tank that never runs over.
    pub dirty: Volume,
    /// The smallest clean tank that never has too little, where the dirty tank
    /// is large enough; absent where no clean tank does it.
    pub clean: Option<Volume>,
    /// The smallest throughput of the whole recycler with which neither tank
    /// fails, the stages removing what they remove now; absent where none does it, without tanks, or where something
    /// keeps coming into the batch.
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
