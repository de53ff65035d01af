//! What a round of top-ups is answered with.

use super::step::TopUpRoundStep;
use crate::fluid::band::Standing;
use crate::fluid::sump::SumpAfter;
use crate::quantity::{Concentration, Count, Mark, Minutes, Money, Ratio, Volume};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A round of top-ups, planned.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TopUpRoundAnswer {
    /// # Premixes
    ///
    /// The premixes to make, one for each product and strength.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub premixes: Vec<PremixToMake>,
    /// # Moves
    ///
    /// Good fluid to move from one sump to another before anything is poured.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub moves: Vec<FluidMove>,
    /// # Sumps
    ///
    /// What is done to each sump and what it comes to, in the order of the walk.
    pub sumps: Vec<SumpOnRound>,
    /// # Trips
    ///
    /// The trips with premix, in their order; absent without vessels.
    pub trips: Option<Vec<PremixTrip>>,
    /// # Trips at least
    ///
    /// The fewest trips that these loads take; absent without vessels.
    pub trips_at_least: Option<Count>,
    /// # Sumps served
    ///
    /// Sumps that the round brings into their bands and to their levels.
    pub served: Count,
    /// # In order already
    ///
    /// Sumps that need nothing.
    pub in_order: Count,
    /// # Out of reach
    ///
    /// Sumps that the round does not bring into their bands.
    pub out_of_reach: Count,
    /// # Strengths
    ///
    /// Number of premixes, counted by product and strength.
    pub strengths: Count,
    /// # Strengths at least
    ///
    /// The fewest with which any plan of this kind serves as many sumps.
    pub strengths_at_least: Count,
    /// # Best round proven
    ///
    /// Whether it is proven that no plan of this kind serves more sumps, or as many with fewer
    /// strengths.
    pub proven: bool,
    /// # Concentrate
    ///
    /// Concentrate in all that is poured.
    pub concentrate: Volume,
    /// # Concentrate at least
    ///
    /// The least that any plan of this kind with as few strengths takes, of the strengths that
    /// are looked at.
    pub concentrate_at_least: Volume,
    /// # Stocks used
    ///
    /// What is used of each stock, in the order of the request.
    pub used: Vec<RoundStockUse>,
    /// # Cost
    ///
    /// Cost of the stocks; absent where none has a price.
    pub cost: Option<Money>,
    /// # Working time
    ///
    /// Time that the round takes; absent where no time is given.
    pub minutes: Option<Minutes>,
    /// # Steps
    ///
    /// What to do, in order.
    pub steps: Vec<TopUpRoundStep>,
}

/// A premix to make.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PremixToMake {
    /// # Product
    ///
    /// Product that it is of.
    #[schema(example = "product A", value_type = String)]
    pub product: Name,
    /// # Strength
    ///
    /// Strength of it.
    pub concentration: Concentration,
    /// # Parts of water
    ///
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[schema(example = 12.33)]
    pub parts_of_water: Option<Ratio>,
    /// # Setting
    ///
    /// Which of the proportioner's settings it is, counted from 1 as they were given.
    pub setting: Option<Count>,
    /// # Instrument must read
    ///
    /// What the instrument of the first sump that gets it must read on it, where that was read
    /// with one.
    pub mark: Option<Mark>,
    /// # Volume
    ///
    /// How much of it.
    pub volume: Volume,
    /// # Mixes
    ///
    /// In how many equal mixes it is made.
    pub mixes: Count,
    /// # Take
    ///
    /// What it is made of, in all mixes together.
    pub take: Vec<PremixShare>,
    /// # Serves
    ///
    /// Sumps that get some of it, in the order of the walk.
    pub sumps: Vec<String>,
}

/// What a premix takes of a stock.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PremixShare {
    /// # Stock
    ///
    /// Name of the stock.
    #[schema(example = "concentrate A", value_type = String)]
    pub name: Name,
    /// # Take
    ///
    /// Volume of it.
    pub volume: Volume,
}

/// Fluid moved from one sump to another.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FluidMove {
    /// # From
    ///
    /// The machine whose sump gives it.
    #[schema(example = "lathe 3", value_type = String)]
    pub from: Name,
    /// # To
    ///
    /// The machine whose sump takes it.
    #[schema(example = "lathe 4", value_type = String)]
    pub to: Name,
    /// # Move
    ///
    /// How much is moved.
    pub volume: Volume,
    /// # Strength moved
    ///
    /// Strength of what is moved.
    pub concentration: Concentration,
    /// # In loads
    ///
    /// In how many loads it is carried; absent without vessels.
    pub loads: Option<Count>,
}

/// What is done to a sump.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpOnRound {
    /// # Machine
    ///
    /// Name of the machine.
    #[schema(example = "lathe 3", value_type = String)]
    pub name: Name,
    /// # Against its band
    ///
    /// Whether the fluid is below, in or above its band now; absent for an empty sump.
    pub standing: Option<Standing>,
    /// # Comes to this
    ///
    /// What the round does for it.
    pub outcome: RoundOutcome,
    /// # Gives
    ///
    /// Fluid that is moved out of it.
    pub gives: Volume,
    /// # Takes
    ///
    /// Fluid that is moved into it.
    pub takes: Volume,
    /// # Premix
    ///
    /// Which premix it gets, counted from 1; absent where it gets none.
    pub premix: Option<Count>,
    /// # Add
    ///
    /// How much of that premix.
    pub add: Volume,
    /// # Afterwards
    ///
    /// The sump afterwards.
    pub after: SumpAfter,
    /// # Draining it would take
    ///
    /// How much would have to be drained to bring it into its band with premix; absent where it
    /// is brought there, or where no draining does it.
    pub draining_needed: Option<Volume>,
}

/// What a round does for a sump.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RoundOutcome {
    /// It is in its band and at its level, and gets nothing.
    InOrder,
    /// It is brought into its band and to its level.
    Served,
    /// It is too weak, and has no room for as much premix as it needs.
    TooWeakForItsRoom,
    /// It is too strong, and has no room for as much weak premix as it needs.
    TooStrongForItsRoom,
    /// A strength between two settings of the proportioner would serve it.
    BetweenSettings,
}

/// One trip with premix.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PremixTrip {
    /// # Premix
    ///
    /// Which premix it carries, counted from 1.
    pub premix: Count,
    /// # Vessel
    ///
    /// The vessel that goes along.
    #[schema(example = "trolley tank", value_type = String)]
    pub vessel: Name,
    /// # Load
    ///
    /// How much is loaded.
    pub volume: Volume,
    /// # Stops
    ///
    /// Where it goes, in the order of the walk.
    pub stops: Vec<TripStop>,
}

/// A stop of a trip.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct TripStop {
    /// # Machine
    ///
    /// Name of the machine.
    #[schema(example = "lathe 3", value_type = String)]
    pub sump: Name,
    /// # Pour in
    ///
    /// How much goes in on this trip.
    pub volume: Volume,
}

/// What a round uses of a stock.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RoundStockUse {
    /// # Stock
    ///
    /// Name of the stock.
    #[schema(example = "concentrate A", value_type = String)]
    pub name: Name,
    /// # Used
    ///
    /// Volume that the round uses.
    pub volume: Volume,
    /// # Left over
    ///
    /// What is left on hand; absent where it was not said how much there is.
    pub left: Option<Volume>,
}
