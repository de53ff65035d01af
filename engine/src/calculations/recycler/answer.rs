//! What comes out of the recycler.

use super::WasteKind;
use crate::calculations::blend::{Mix, Take};
use crate::properties::{Carried, Properties};
use crate::quantity::{
    BacterialCount, Concentration, Count, DailyRate, Days, Hours, Mark, Mass, Ratio, Share,
    Throughput, Volume,
};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What the recycler makes of the fluid, and whether its tanks hold the plan.
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
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub done_day: Option<Days>,
    /// The fluid that comes out, before it is corrected.
    pub recovered: Recovered,
    /// What leaves on the way: a line for each stage that removes something,
    /// and one for each that is rinsed.
    pub waste: Vec<Waste>,
    /// What of the fluid cannot be recycled, and why.
    pub not_recyclable: Vec<NotRecyclable>,
    /// What the dip slide says, when one was given.
    #[serde(skip_serializing_if = "Option::is_none", default)]
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
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub first_overflow: Option<TankEvent>,
    /// When the clean tank first has too little; absent when it never does.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub first_shortage: Option<TankEvent>,
    /// How large tanks and recycler have to be for the plan.
    pub smallest: Smallest,
    /// How likely the dirty tank is to run over, when the deliveries are uncertain.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub overflow_risk: Option<OverflowRisk>,
}

/// The fluid that comes out of the recycler.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Recovered {
    /// How much of it there is, from all of the feed.
    pub volume: Volume,
    /// The same as a share of the feed.
    pub share: Share,
    /// How strong it is.
    pub concentration: Concentration,
    /// What it still carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// A stream of waste.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Waste {
    /// The stage it comes from.
    #[schema(example = "centrifuge")]
    pub stage: String,
    /// What kind of waste it is.
    pub kind: WasteKind,
    /// How much room it takes: oil and the fluid with it. Solids by
    /// themselves are followed by mass alone.
    pub volume: Volume,
    /// What it weighs.
    pub mass: Mass,
    /// Concentrate lost with it.
    pub concentrate: Volume,
    /// What it carries: tramp oil by volume, anything else by mass.
    #[serde(skip_serializing_if = "Carried::is_empty", default)]
    pub carried: Carried,
}

/// Something that keeps the fluid from being recycled as it is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct NotRecyclable {
    /// What it is: a property by its name, or `bacteria`.
    #[schema(example = "chloride")]
    pub property: String,
    /// Why, for programs.
    pub why: Why,
    /// Why, and what can be done.
    pub text: String,
    /// How much of it is left after the treatment.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub left: Properties,
    /// How much there may be.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub most: Properties,
}

/// Why a fluid cannot be recycled as it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Why {
    /// Oil that is emulsified does not separate.
    Emulsified,
    /// No stage removes it.
    NoStageRemovesIt,
    /// It comes in faster than the stages remove it.
    ComesInTooFast,
    /// More microbes than the published band tolerates.
    Microbes,
    /// More than a published limit tolerates, though the request sets none.
    AbovePublishedLimit,
}

/// What a dip slide says.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Bacteria {
    /// The count after the treatment.
    pub count: BacterialCount,
    /// The band of the UK's HSE that it lies in.
    pub band: BacteriaBand,
}

/// Bands of the UK's HSE for dip slides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum BacteriaBand {
    /// Below 10⁴ CFU/mL: good control.
    Good,
    /// From 10⁴ to below 10⁶ CFU/mL: reasonable control, to be reviewed.
    Reasonable,
    /// 10⁶ CFU/mL and more: poor control, act at once.
    Poor,
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
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Correction {
    /// What goes into the batch: the recovered fluid first, then the stocks in
    /// the order of the request.
    pub take: Vec<Take>,
    /// The batch that comes out.
    pub batch: Mix,
    /// What the instrument of the reading must show then. Absent without a
    /// reading, or where the instrument's scale does not reach so far.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub mark: Option<Mark>,
}

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
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Smallest {
    /// The smallest dirty tank that never runs over.
    pub dirty: Volume,
    /// The smallest clean tank that never has too little, where the dirty tank
    /// is large enough; absent where no clean tank does it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub clean: Option<Volume>,
    /// The smallest throughput of the whole recycler with which neither tank
    /// fails, the stages removing what they remove now; absent where none does it, without tanks, or where something
    /// keeps coming into the batch.
    #[serde(skip_serializing_if = "Option::is_none", default)]
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
    /// How many times the plan was drawn.
    pub draws: Count,
    /// The dirty tank that is large enough in 95 of 100 draws.
    pub large_enough_in_95: Volume,
}
