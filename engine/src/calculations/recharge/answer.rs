//! What a planned round looks like.

use super::SheetStep;
use crate::calculations::blend::Take;
use crate::calculations::top_up::SumpAfter;
use crate::properties::{ByProperty, Properties};
use crate::quantity::{Concentration, Count, Hours, Mass, Minutes, Money, Ratio, Share, Volume};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What is left of each property, as a share of what was there.
pub type SharesLeft = ByProperty<Share, Share>;

/// A round of clean-outs, planned.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RechargeAnswer {
    /// What to prepare: a batch for each product and strength.
    pub batches: Vec<Batch>,
    /// What is done to each sump and what it comes to, in the order of the request.
    pub sumps: Vec<SumpRecharged>,
    /// The trips, in their order.
    pub hauls: Vec<Haul>,
    /// No plan of this kind has fewer trips.
    pub hauls_at_least: Count,
    /// Whether it is proven that no plan of this kind has fewer trips.
    pub proven: bool,
    /// How long the crew is at work.
    pub crew_hours: Hours,
    /// No plan of this kind with as few trips as can be takes less.
    pub crew_hours_at_least: Hours,
    /// How long the same round takes by hand; absent unless it is known for
    /// every sump.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub by_hand_hours: Option<Hours>,
    /// What the batches cost, when any stock has a cost.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub cost: Option<Money>,
    /// The job sheet: what to do, in the order in which it is done.
    pub sheet: Vec<SheetStep>,
}

/// A batch to prepare for the round.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Batch {
    /// The product it is of.
    #[schema(example = "product A")]
    pub product: String,
    /// How strong to make it.
    pub concentration: Concentration,
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = 15.67)]
    pub parts_of_water: Option<Ratio>,
    /// How much to make.
    pub volume: Volume,
    /// What to take, a line for each stock that goes with the product.
    pub take: Vec<Take>,
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// The sumps that it fills.
    #[schema(example = json!(["lathe 2"]))]
    pub sumps: Vec<String>,
}

/// What is done to a sump and what it comes to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpRecharged {
    /// The machine.
    #[schema(example = "lathe 2")]
    pub name: String,
    /// Old fluid that is sucked out, without the flushes.
    pub removed: Volume,
    /// What is hosed in for flushing and sucked out again, all flushes together.
    pub flushed: Volume,
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
    /// From locking the machine out to the last of its refill.
    pub out_of_service_minutes: Minutes,
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

/// A trip with the carrier: clean out, dirty back.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Haul {
    /// The batch it carries, or whose machines it serves, numbered from 1.
    pub batch: Count,
    /// The machines it goes to, in their order.
    #[schema(example = json!(["lathe 2"]))]
    pub sumps: Vec<String>,
    /// What it carries out.
    pub clean: Volume,
    /// What it sucks up.
    pub dirty: Volume,
    /// The chips it fetches.
    pub solids: Mass,
    /// How often the basket is emptied, at the end of the trip included.
    pub basket_emptyings: Count,
    /// Whether the dirty tank is emptied at the end of it. Where it is not, the
    /// next trip's fits on top.
    pub empties_dirty_tank: bool,
    /// How long it takes, from filling the clean tank to the end of unloading.
    pub minutes: Minutes,
}
