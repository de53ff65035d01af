//! What comes out of the recycler.

mod recovered;
mod tanks;

pub use recovered::{Bacteria, BacteriaBand, NotRecyclable, Recovered, Waste, Why};
pub use tanks::{Levels, OverflowRisk, Smallest, TankEvent};

use crate::fluid::batch::{Mix, Premix, Take};
use crate::fluid::properties::Properties;
use crate::quantity::{DailyRate, Days, Hours, Mark, Ratio};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What the recycler makes of the fluid, and whether its tanks hold the plan.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RecyclerAnswer {
    /// How often the whole batch goes through the stages: whole passes, or
    /// turnovers of the tank where it is recirculated.
    pub passes: Ratio,
    /// How long the recycler runs to bring all of the feed to its target.
    pub hours: Hours,
    /// The stage that holds the rest back.
    #[schema(example = "centrifuge")]
    pub limited_by: String,
    /// Dirty fluid that it brings to the target on a day on which it runs.
    pub capacity_per_day: DailyRate,
    /// Hours that it has to run for all of the feed, against the hours that it
    /// may run during the plan: above 1 it cannot keep up.
    pub utilisation: Ratio,
    /// When the dirty tank is empty for good; absent where that is not within
    /// the plan.
    pub done_day: Option<Days>,
    /// The fluid that comes out, before it is corrected.
    pub recovered: Recovered,
    /// What leaves on the way: a line for each stage that removes something,
    /// and one for each that is rinsed.
    pub waste: Vec<Waste>,
    /// What of the fluid cannot be recycled, and why.
    pub not_recyclable: Vec<NotRecyclable>,
    /// What the dip slide says, when one was given.
    pub bacteria: Option<Bacteria>,
    /// Where properties that keep coming in settle while the batch is recirculated.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub settling: Vec<Settling>,
    /// What brings the recovered fluid on target.
    pub correction: Correction,
    /// The tanks through the plan: from each point to the next the levels run
    /// in a straight line. A day that comes twice is a level that jumps.
    /// Absent without tanks.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub levels: Vec<Levels>,
    /// When the dirty tank first runs over; absent when it never does.
    pub first_overflow: Option<TankEvent>,
    /// When the clean tank first has too little; absent when it never does.
    pub first_shortage: Option<TankEvent>,
    /// How large tanks and recycler have to be for the plan.
    pub smallest: Smallest,
    /// How likely the dirty tank is to run over, when the deliveries are uncertain.
    pub overflow_risk: Option<OverflowRisk>,
}

/// Where a property settles while a batch is recirculated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Settling {
    /// The property.
    #[schema(example = "solids")]
    pub property: String,
    /// Where it settles in the end.
    pub settles_at: Properties,
    /// How long it takes to come within 37 % of the way left to go.
    pub time_constant_hours: Hours,
}
/// What brings the recovered fluid on target.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Correction {
    /// What goes into the batch: the recovered fluid first, then the stocks in
    /// the order of the request.
    pub take: Vec<Take>,
    /// The stocks of it stirred together before they are poured into a tank that stands
    /// still; absent where nothing but water is added or the tank is stirred.
    pub premix: Option<Premix>,
    /// The batch that comes out.
    pub batch: Mix,
    /// What the instrument of the reading must show then. Absent without a
    /// reading, or where the instrument's scale does not reach so far.
    pub mark: Option<Mark>,
}
