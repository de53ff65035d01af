//! A recycler, what comes to it and what is wanted of it, as a question describes them.

mod feed;
mod plant;
mod spread;
mod target;

pub use feed::{DirtyDelivery, RecyclerFeed};
pub use plant::{
    BatchSource, RecyclerMode, RecyclerStage, RecyclerTank, RecyclerTanks, StageRemoval,
    StageWasteKind,
};
pub use spread::{DeliveryDistribution, DeliverySpread};
pub use target::{CleanDemand, RecycledTarget, TankMixing};

use crate::fluid::stock::Stock;
use crate::quantity::{Capacity, Count, DayHours, Weekday};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A recycler, the dirty fluid that comes to it and the clean fluid that is wanted.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Recycler {
    /// # Dirty fluid
    ///
    /// The dirty fluid.
    pub feed: RecyclerFeed,
    /// # Stages
    ///
    /// The stages of the recycler, in the order of the flow.
    #[schema(max_items = 100)]
    pub stages: Vec<RecyclerStage>,
    /// # Mode
    ///
    /// Flow of the fluid through the stages.
    pub mode: RecyclerMode,
    /// # Running time a day
    ///
    /// Running time of the recycler on a day on which it runs.
    #[schema(example = 8.0)]
    pub hours_per_day: DayHours,
    /// # Started at
    ///
    /// Hour of the day at which the recycler is started. It may run past midnight. Default: 0
    /// (midnight).
    #[schema(example = 6.0)]
    pub starts_at_hour: Option<DayHours>,
    /// # Runs on
    ///
    /// Days of the week on which the recycler runs: 0 is the day on which the plan begins, 6
    /// the last of the week. Default: every day.
    #[schema(max_items = 7)]
    pub runs_on: Option<Vec<Weekday>>,
    /// # Length of the plan
    ///
    /// Length of the plan, 400 days at most. Default: until the end of the day of the last
    /// delivery or demand, or until one batch is done.
    #[schema(example = 7)]
    pub plan_days: Option<Count>,
    /// # Tanks
    ///
    /// The dirty and the clean tank. Default: none; their levels are not followed, and the
    /// smallest tanks are given all the same.
    pub tanks: Option<RecyclerTanks>,
    /// # Clean fluid fetched
    ///
    /// Clean fluid that is fetched, by day.
    pub demand: Option<Vec<CleanDemand>>,
    /// # Target
    ///
    /// Strength and limits of the recycled fluid.
    pub target: RecycledTarget,
    /// # To correct with
    ///
    /// Fluids on hand to correct it with. Default: neat concentrate and water.
    pub stocks: Option<Vec<Stock>>,
    /// # Coming in meanwhile
    ///
    /// Matter that keeps coming into one batch while it is recirculated.
    #[schema(max_items = 100)]
    pub sources: Option<Vec<BatchSource>>,
    /// # Measured to
    ///
    /// What the amounts of the correction are measured out to, for instance half a litre.
    /// Default: by their size.
    #[schema(example = 0.5)]
    pub measures_to: Option<Capacity>,
}
