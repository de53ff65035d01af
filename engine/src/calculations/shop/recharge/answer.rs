//! What a planned round looks like.

use super::SheetStep;
use crate::fluid::batch::Take;
use crate::fluid::properties::{ByProperty, Properties};
use crate::fluid::sump::SumpAfter;
use crate::quantity::{
    Brix, Concentration, Count, Hours, Mass, Minutes, Money, Ratio, Share, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What is left of each property, as a share of what was there.
pub type SharesLeft = ByProperty<Share, Share>;

/// A round of clean-outs, planned.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RechargeAnswer {
    /// What to prepare: a batch for each product and strength.
    pub batches: Vec<RoundBatch>,
    /// What is done to each sump and what it comes to, in the order of the request.
    pub sumps: Vec<SumpRecharged>,
    /// The weak mixes to prepare for rinsing, one for each product and strength; absent
    /// where no sump is rinsed with one.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub rinse_mixes: Vec<RoundBatch>,
    /// The trips, in their order; absent without vessels.
    pub trips: Option<Vec<RoundTrip>>,
    /// No plan of this kind has fewer trips; absent without vessels.
    pub trips_at_least: Option<Count>,
    /// Whether it is proven that no plan of this kind has fewer trips; absent without
    /// vessels.
    pub proven: Option<bool>,
    /// How long the crew is at work; absent without vessels or times.
    pub crew_hours: Option<Hours>,
    /// No plan of this kind with as few trips as can be takes less.
    pub crew_hours_at_least: Option<Hours>,
    /// The same round done in the other way that was described.
    pub another_way: Option<OtherWayTakes>,
    /// How long before the round the first system cleaner goes in; absent without any.
    pub begins_hours_before: Option<Hours>,
    /// What the batches and the mixes for rinsing cost, when any stock has a cost.
    pub cost: Option<Money>,
    /// The job sheet: what to do, in the order in which it is done.
    pub sheet: Vec<SheetStep>,
}

/// A batch to prepare for the round.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RoundBatch {
    /// The product it is of.
    #[schema(example = "product A")]
    pub product: String,
    /// How strong to make it.
    pub concentration: Concentration,
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[schema(example = 15.67)]
    pub parts_of_water: Option<Ratio>,
    /// What the refractometer must read, where the factor of the fluid is known.
    pub mark: Option<Brix>,
    /// How much to make, all mixes together.
    pub volume: Volume,
    /// In how many equal mixes it is made, so that each is no larger than the largest
    /// batch.
    pub mixes: Count,
    /// What to take in all, a line for each stock that goes with the product.
    pub take: Vec<Take>,
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// The sumps that it is for.
    #[schema(example = json!(["lathe 2"]))]
    pub sumps: Vec<String>,
}

/// What is done to a sump and what it comes to.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpRecharged {
    /// The machine.
    #[schema(example = "lathe 2")]
    pub name: String,
    /// System cleaner that goes in beforehand; absent where there is none.
    pub cleaner: Option<Volume>,
    /// Old fluid that is taken out, its cleaner included, without the rinses.
    pub removed: Volume,
    /// What goes in for rinsing and is taken out again, all rinses together.
    pub rinsed: Volume,
    /// What it is refilled with.
    pub refill: Refill,
    /// What it comes to.
    pub after: SumpAfter,
    /// By how many points it stays off its target, where it shares a batch; 0
    /// when the target is met.
    pub misses_by: Share,
    /// What is left of the old fluid, as a share of what was in the sump.
    pub old_fluid_left: Share,
    /// The same for each thing that the old fluid carried.
    #[serde(skip_serializing_if = "SharesLeft::is_empty", default)]
    pub properties_left: SharesLeft,
    /// System cleaner in the refilled sump; absent where there was none.
    pub cleaner_left: Option<Concentration>,
    /// From locking the machine out to the last of its refill; absent without vessels or
    /// times.
    pub out_of_service_minutes: Option<Minutes>,
}

/// What a sump is refilled with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Refill {
    /// The batch it comes from, numbered from 1.
    pub batch: Count,
    /// How much goes in.
    pub volume: Volume,
    /// How strong it is.
    pub concentration: Concentration,
}

/// The other way of working, in the same words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OtherWayTakes {
    /// What the shop calls it.
    #[schema(example = "two people with buckets")]
    pub name: String,
    /// How long the crew is at work.
    pub crew_hours: Hours,
}

/// A trip with all vessels: clean out, dirty and chips back.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RoundTrip {
    /// The batch it carries, or whose machines it serves, numbered from 1.
    pub batch: Count,
    /// The machines it goes to, in their order.
    #[schema(example = json!(["lathe 2"]))]
    pub sumps: Vec<String>,
    /// Whether hoses and vessels are washed before it, because the trip before it was
    /// for another product.
    pub washed_before: bool,
    /// The clean fluid that it carries out.
    pub clean: Volume,
    /// The dirty fluid that it takes away.
    pub dirty: Volume,
    /// The chips that it takes away.
    pub chips: Mass,
    /// How often the vessels for chips are emptied, at the end of the trip included.
    pub chip_emptyings: Count,
    /// Whether the vessels for dirty fluid are emptied at the end of it. Where they are
    /// not, the next trip's fits on top.
    pub empties_dirty: bool,
    /// How long it takes, from washing and filling to the end of emptying; absent
    /// without times.
    pub minutes: Option<Minutes>,
}
