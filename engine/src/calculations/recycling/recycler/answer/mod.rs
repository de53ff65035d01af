//! What comes out of the recycler.

mod correction;
mod recovered;
mod tanks;

pub use correction::BatchCorrection;
pub use recovered::{BacteriaBand, RecoveredFluid, SettlingContent, StageWaste, TreatedBacteria};
pub use tanks::{OverflowRisk, SmallestPlant, TankFailure, TankLevels};

use crate::quantity::{DailyRate, Days, Hours, Quantity, Ratio};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Recycled fluid, waste and correction, and whether the tanks hold the plan.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RecyclerAnswer {
    /// # Passes
    ///
    /// Number of times that the whole batch goes through the stages: whole passes, or
    /// turnovers of the tank where it is recirculated.
    pub passes: Ratio,
    /// # Running time
    ///
    /// Running time that brings all of the feed to its target.
    pub hours: Hours,
    /// # Slowest stage
    ///
    /// Slowest stage, which holds the rest back.
    #[schema(example = "centrifuge")]
    pub limited_by: String,
    /// # Cleans in a day
    ///
    /// Dirty fluid brought to the target on a day on which the recycler runs.
    pub capacity_per_day: DailyRate,
    /// # Time needed for the time there is
    ///
    /// Running time needed for all of the feed, divided by the running time in the plan:
    /// above 1 the recycler cannot keep up.
    pub utilisation: Ratio,
    /// # Done on day
    ///
    /// Time at which the dirty tank is empty for good. Absent when that is not within the
    /// plan.
    pub done_day: Option<Days>,
    /// # Recovered
    ///
    /// Recovered fluid before it is corrected.
    pub recovered: RecoveredFluid,
    /// # Waste
    ///
    /// Waste: an entry for each stage that removes something, and one for each that is
    /// rinsed.
    pub waste: Vec<StageWaste>,
    /// # Bacteria
    ///
    /// Bacteria after the treatment, by the dip slide of the feed. Absent without a dip slide.
    pub bacteria: Option<TreatedBacteria>,
    /// # Settles at
    ///
    /// Contents at which properties that keep coming in settle while the batch is
    /// recirculated.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub settling: Vec<SettlingContent>,
    /// # Correction
    ///
    /// Additions that bring the recovered fluid on target.
    pub correction: BatchCorrection,
    /// # Levels of the tanks
    ///
    /// Levels of the tanks through the plan, straight lines from each point to the next. A
    /// day that comes twice is a level that jumps. Absent without tanks.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub levels: Vec<TankLevels>,
    /// # Dirty tank runs over
    ///
    /// First overflow of the dirty tank. Absent when it never runs over.
    pub first_overflow: Option<TankFailure>,
    /// # Clean tank runs short
    ///
    /// First time that the clean tank has too little. Absent when it never does.
    pub first_shortage: Option<TankFailure>,
    /// # Smallest that do
    ///
    /// Smallest tanks and throughput that carry the plan.
    pub smallest: SmallestPlant,
    /// # Risk of running over
    ///
    /// Probability that the dirty tank runs over when the deliveries are uncertain.
    pub overflow_risk: Option<OverflowRisk>,
}

impl RecyclerAnswer {
    /// Whether the plan has fewer hours than the fluid takes, and not only by rounding.
    pub(in crate::calculations::recycling::recycler) fn has_too_few_hours(&self) -> bool {
        const ROUNDING_OF_HOURS: f64 = 1e-9;
        self.utilisation.get() > 1.0 + ROUNDING_OF_HOURS
    }
}
