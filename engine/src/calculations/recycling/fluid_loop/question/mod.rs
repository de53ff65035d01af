//! A shop as its question describes it.

mod group;
mod plant;

pub use group::{GroupCleanOut, MatterGain, OilGain, RecycledUse, SumpGains, SumpGroup};
pub use plant::{
    DeionisedShare, LoopConcentrate, LoopRecycler, LoopTank, LoopTanks, LoopWater,
    RemovedByRecycler,
};

use crate::fluid::properties::Limits;
use crate::fluid::sheet::SheetLimits;
use crate::quantity::{Count, Density, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A whole shop whose cutting fluid is drained, recycled and used again.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FluidLoop {
    /// # Groups of sumps
    ///
    /// The sumps of the shop, one entry for each kind of sump.
    pub groups: Vec<SumpGroup>,
    /// # Recycler
    ///
    /// The recycler for drained fluid. Default: none; all drained fluid is disposed of.
    pub recycler: Option<LoopRecycler>,
    /// # Recovered fluid discarded
    ///
    /// Share of the recovered fluid that is deliberately discarded and replaced with fresh
    /// fluid. Default: 0.
    pub purge: Option<Share>,
    /// # Tanks
    ///
    /// The tanks before and after the recycler. They delay the way to steady state and do
    /// not change where it ends. Default: none.
    pub tanks: Option<LoopTanks>,
    /// # Water
    ///
    /// The water used for make-up and refills.
    pub water: LoopWater,
    /// # Concentrate
    ///
    /// The concentrate as it is bought. Default: the density of water, and 0 of every property
    /// that is followed.
    pub concentrate: Option<LoopConcentrate>,
    /// # Density of tramp oil
    ///
    /// Density of tramp oil. Default: the density of water at 20 °C.
    pub oil_density: Option<Density>,
    /// # Limits
    ///
    /// Limits that the fluid in every sump has to keep on every day between two clean-outs.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// # The fluid's sheet
    ///
    /// Limits of the fluid's own sheet. What is followed of nitrite, chloride, hardness and tramp
    /// oil also has to keep the boundaries that `condition` acts on by it.
    pub sheet: Option<SheetLimits>,
    /// # Days to follow
    ///
    /// Number of days to follow from today's state towards steady state. Default: 365, or as
    /// many as a large shop allows.
    #[schema(example = 365)]
    pub days: Option<Count>,
}
