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
    /// # Batches
    ///
    /// Batches to prepare, one for each product and strength.
    pub batches: Vec<RoundBatch>,
    /// # Sumps
    ///
    /// What is done to each sump and what it comes to, in the order of the request.
    pub sumps: Vec<SumpRecharged>,
    /// # Rinse mixes
    ///
    /// The weak mixes to prepare for rinsing, one for each product and strength; absent
    /// where no sump is rinsed with one.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub rinse_mixes: Vec<RoundBatch>,
    /// # Trips
    ///
    /// The trips, in their order; absent without vessels.
    pub trips: Option<Vec<RoundTrip>>,
    /// # Trips at least
    ///
    /// The fewest trips that any plan of this kind has; absent without vessels.
    pub trips_at_least: Option<Count>,
    /// # Fewest trips proven
    ///
    /// Whether it is proven that no plan of this kind has fewer trips; absent without
    /// vessels.
    pub proven: Option<bool>,
    /// # Crew at work
    ///
    /// Working time of the crew; absent without vessels or times.
    pub crew_hours: Option<Hours>,
    /// # Crew at work at least
    ///
    /// The shortest working time of any plan of this kind with the fewest trips.
    pub crew_hours_at_least: Option<Hours>,
    /// # Other way
    ///
    /// The same round done in the other way that was described.
    pub another_way: Option<OtherWayTakes>,
    /// # First cleaner before
    ///
    /// Time before the round at which the first system cleaner goes in; absent without any.
    pub begins_hours_before: Option<Hours>,
    /// # Cost
    ///
    /// Cost of the batches and the mixes for rinsing; absent where no stock has a cost.
    pub cost: Option<Money>,
    /// # Job sheet
    ///
    /// The job sheet: what to do, in order.
    pub sheet: Vec<SheetStep>,
}

/// A batch to prepare for the round.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RoundBatch {
    /// # Product
    ///
    /// Product that it is of.
    #[schema(example = "product A")]
    pub product: String,
    /// # Strength
    ///
    /// Strength to make it to.
    pub concentration: Concentration,
    /// # Parts of water
    ///
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[schema(example = 15.67)]
    pub parts_of_water: Option<Ratio>,
    /// # Scale must read
    ///
    /// Reading that the refractometer must show, where the factor of the fluid is known.
    pub mark: Option<Brix>,
    /// # Make
    ///
    /// Volume to make, all mixes together.
    pub volume: Volume,
    /// # Mixes
    ///
    /// Number of equal mixes that it is made in, none larger than the largest batch.
    pub mixes: Count,
    /// # Take
    ///
    /// Volume of each stock to take, all mixes together.
    pub take: Vec<Take>,
    /// # Carries
    ///
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # For
    ///
    /// Sumps that it is for.
    #[schema(example = json!(["lathe 2"]))]
    pub sumps: Vec<String>,
}

/// What is done to a sump and what it comes to.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpRecharged {
    /// # Machine
    ///
    /// Name of the machine.
    #[schema(example = "lathe 2")]
    pub name: String,
    /// # Cleaner
    ///
    /// System cleaner that goes in beforehand; absent where there is none.
    pub cleaner: Option<Volume>,
    /// # Taken out
    ///
    /// Old fluid that is taken out, its cleaner included, without the rinses.
    pub removed: Volume,
    /// # Rinsed with
    ///
    /// Volume that goes in for rinsing and is taken out again, all rinses together.
    pub rinsed: Volume,
    /// # Refill
    ///
    /// What it is refilled with.
    pub refill: SumpRefill,
    /// # Afterwards
    ///
    /// The sump afterwards.
    pub after: SumpAfter,
    /// # Off target by
    ///
    /// Points by which it stays off its target, where it shares a batch; 0 where it is met.
    pub misses_by: Share,
    /// # Old fluid left
    ///
    /// Old fluid that is left, as a share of what was in the sump.
    pub old_fluid_left: Share,
    /// # Old properties left
    ///
    /// The same for each thing that the old fluid carried.
    #[serde(skip_serializing_if = "SharesLeft::is_empty", default)]
    pub properties_left: SharesLeft,
    /// # Cleaner left
    ///
    /// System cleaner in the refilled sump; absent where there was none.
    pub cleaner_left: Option<Concentration>,
    /// # Out of service
    ///
    /// Time from locking the machine out to the last of its refill; absent without vessels or
    /// times.
    pub out_of_service_minutes: Option<Minutes>,
}

/// What a sump is refilled with.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpRefill {
    /// # From batch
    ///
    /// Batch that it comes from, numbered from 1.
    pub batch: Count,
    /// # Volume
    ///
    /// Volume that goes in.
    pub volume: Volume,
    /// # Strength
    ///
    /// Strength of the refill.
    pub concentration: Concentration,
}

/// The other way of working, in the same words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OtherWayTakes {
    /// # Way
    ///
    /// Name of the other way.
    #[schema(example = "two people with buckets")]
    pub name: String,
    /// # Crew at work
    ///
    /// Working time of the crew.
    pub crew_hours: Hours,
}

/// A trip with all vessels: clean out, dirty and chips back.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RoundTrip {
    /// # Batch
    ///
    /// Batch that it carries, or whose machines it serves, numbered from 1.
    pub batch: Count,
    /// # Machines
    ///
    /// Machines that it goes to, in order.
    #[schema(example = json!(["lathe 2"]))]
    pub sumps: Vec<String>,
    /// # Washed before
    ///
    /// Whether hoses and vessels are washed before it, because the trip before it was
    /// for another product.
    pub washed_before: bool,
    /// # Clean out
    ///
    /// Clean fluid that it carries out.
    pub clean: Volume,
    /// # Dirty back
    ///
    /// Dirty fluid that it takes away.
    pub dirty: Volume,
    /// # Chips back
    ///
    /// Chips that it takes away.
    pub chips: Mass,
    /// # Chips emptied
    ///
    /// Number of times that the vessels for chips are emptied, the end of the trip included.
    pub chip_emptyings: Count,
    /// # Dirty emptied
    ///
    /// Whether the vessels for dirty fluid are emptied at the end of it. Where they are
    /// not, the next trip's fits on top.
    pub empties_dirty: bool,
    /// # Takes
    ///
    /// Time from washing and filling to the end of emptying; absent without times.
    pub minutes: Option<Minutes>,
}
