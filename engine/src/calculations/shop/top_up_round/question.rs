//! The question: the sumps as they were found, and what there is to top them up with.

use crate::fluid::band::Band;
use crate::fluid::product_stock::ProductStock;
use crate::fluid::sump::Sump;
use crate::quantity::{Capacity, Concentration, Minutes, PumpRate, Share, Volume};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A round of top-ups, and what there is to do it with.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TopUpRound {
    /// # Sumps
    ///
    /// The sumps as they were found today, in the order of the walk.
    #[schema(max_items = 500)]
    pub sumps: Vec<SumpFound>,
    /// # Stocks
    ///
    /// What there is to pour and to mix from, most preferred first: concentrates, water,
    /// recycled fluid.
    #[schema(max_items = 100)]
    pub stocks: Vec<ProductStock>,
    /// # How premix is made
    ///
    /// What premix is made with. Default: a clean vessel, to any strength.
    pub mixing: Option<PremixMaking>,
    /// # Vessels
    ///
    /// What premix is carried to the machines in. Default: it is drawn at the machine, and
    /// there are no trips.
    #[schema(max_items = 50)]
    pub vessels: Option<Vec<PremixVessel>>,
    /// # Moving fluid
    ///
    /// How good fluid is moved from a sump that is too strong to one of the same product that
    /// is too weak. Default: none is moved.
    pub moving: Option<MovingFluid>,
    /// # Minutes at a sump
    ///
    /// Time at each sump that is topped up, beside pumping: going there, opening, reading
    /// again. Default: 0.
    pub stop_minutes: Option<Minutes>,
    /// # Weakest premix
    ///
    /// The weakest premix that is poured in. Default: 0, plain water where a sump is too strong.
    pub premix_at_least: Option<Concentration>,
    /// # Strongest premix
    ///
    /// The strongest premix that is poured in, below 50 % by volume, as the fluid's own sheet
    /// says. Default: 20 (common practice, no source).
    #[schema(example = 15.0)]
    pub premix_at_most: Option<Concentration>,
    /// # Kept off the ends
    ///
    /// Share of a band's width by which a sump is brought inside either end of it, so that
    /// measuring out does not put it outside again; less where no premix does that. Default: 10.
    #[schema(example = 10.0)]
    pub margin: Option<Share>,
    /// # Measured out to
    ///
    /// What the amounts are measured out to, for instance half a litre. Default: by their
    /// size.
    #[schema(example = 0.5)]
    pub measures_to: Option<Capacity>,
}

/// A sump as it was found.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpFound {
    /// # Machine
    ///
    /// Name of the machine, different for each sump.
    #[schema(example = "lathe 3", value_type = String, min_length = 1, max_length = 128)]
    pub name: Name,
    /// # Product
    ///
    /// Product that is in it. Products with different names are never mixed.
    #[schema(example = "product A", value_type = String, min_length = 1, max_length = 128)]
    pub product: Name,
    /// # Sump
    ///
    /// What it holds and what is in it.
    pub sump: Sump,
    /// # Band
    ///
    /// Range of strength that it is kept in.
    pub band: Band,
    /// # Fill to
    ///
    /// Volume that it is filled to at least, and never above what it holds. Default: what it
    /// holds, unless it lacks less than a fiftieth of that.
    pub fill_to: Option<Volume>,
    /// # Found against it
    ///
    /// What was found against its fluid: a smell, mould, rust, oil. Such a sump neither gives
    /// fluid nor takes another's. Default: nothing.
    #[schema(example = "smells musty", value_type = Option<String>, min_length = 1, max_length = 128)]
    pub against: Option<Name>,
}

/// What premix is made with.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PremixMaking {
    /// # Made with
    ///
    /// What it is made with.
    pub by: PremixMaker,
    /// # Settings
    ///
    /// Strengths of the notches of a proportioner. Default: it goes to any strength.
    #[schema(max_items = 50)]
    pub settings: Option<Vec<Concentration>>,
    /// # Makes at once
    ///
    /// The most that is made at once; more is made in equal mixes. Default: any amount.
    #[schema(example = 200.0)]
    pub holds: Option<Capacity>,
    /// # Minutes a mix
    ///
    /// Time to make a mix. Default: 0.
    pub minutes: Option<Minutes>,
}

/// What premix is made with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PremixMaker {
    /// A proportioner, which draws neat concentrate into water.
    Proportioner,
    /// A mixing tank with a stirrer.
    StirredTank,
    /// A bucket or another clean vessel, by hand.
    Bucket,
}

/// What premix is carried to the machines in.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PremixVessel {
    /// # Vessel
    ///
    /// Name of the vessel, different for each.
    #[schema(example = "trolley tank", value_type = String, min_length = 1, max_length = 128)]
    pub name: Name,
    /// # Vessel holds
    ///
    /// What goes into it without spilling on the way.
    #[schema(example = 60.0)]
    pub capacity: Capacity,
    /// # For product
    ///
    /// Product that it is kept for. Default: any, washed between two.
    #[schema(example = "product A", value_type = Option<String>, min_length = 1, max_length = 128)]
    pub product: Option<Name>,
    /// # Minutes a trip
    ///
    /// Time to fill it, go out and come back. Default: 0.
    pub trip_minutes: Option<Minutes>,
    /// # Pumped out at
    ///
    /// How fast its pump fills a sump. Default: it is poured out in no time that counts.
    pub pump_rate: Option<PumpRate>,
}

/// How good fluid is moved from sump to sump.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MovingFluid {
    /// # Moved at least
    ///
    /// The least that is worth moving.
    #[schema(example = 10.0)]
    pub at_least: Capacity,
    /// # Minutes a move
    ///
    /// Time of a move from one sump to another. Default: 0.
    pub minutes: Option<Minutes>,
}
