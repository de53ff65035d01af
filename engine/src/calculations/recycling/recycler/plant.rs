//! The recycler's stages, its tanks, and what it is to deliver.

use crate::calculations::recycling::separation::{SeparatingStage, Separator};
use crate::fluid::properties::{ByProperty, Limits};
use crate::quantity::{
    Capacity, Concentration, Days, Hours, MassRate, Quantity, Share, Throughput, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The share of each property that a stage removes.
pub type Removed = ByProperty<Share, Share>;

/// One stage of the recycler.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Stage {
    /// What the shop calls it. Each stage has its own name.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "bag filter", min_length = 1, max_length = 128)]
    pub name: String,
    /// How much fluid it takes in an hour.
    #[schema(example = 300.0)]
    pub throughput: Throughput,
    /// What it removes on one pass: a share of each property that comes to it.
    /// Give this or a separator.
    #[serde(skip_serializing_if = "Removed::is_empty", default)]
    pub removes: Removed,
    /// What kind of machine it is and the sizes of what it separates, from which
    /// the share that it removes is found at the flow of the slowest stage.
    pub separator: Option<Separator>,
    /// How much of the good fluid that comes to it leaves with what it
    /// removes; none when left out.
    #[schema(example = 0.5)]
    pub good_fluid_lost: Option<Share>,
    /// How much of the microbes it kills or removes on one pass (a heated
    /// stage); none when left out.
    pub kills: Option<Share>,
    /// What kind of waste it gives; an oil phase where it removes tramp oil,
    /// sludge where it does not, when left out.
    pub waste: Option<WasteKind>,
    /// Water that rinsing it takes after the batch or, with deliveries, after
    /// the whole plan.
    #[schema(example = 15.0)]
    pub rinse: Option<Volume>,
}

impl Stage {
    /// Whether it is a centrifuge, as far as the request says.
    pub(super) fn spins(&self) -> bool {
        self.separator.as_ref().is_some_and(|separator| {
            matches!(
                separator.stage,
                SeparatingStage::TubularCentrifuge(_) | SeparatingStage::DiscCentrifuge(_)
            )
        })
    }
}

/// A kind of waste.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum WasteKind {
    /// Oil that was skimmed or spun off, with what fluid it holds.
    OilPhase,
    /// Solids, with what fluid they hold.
    Sludge,
    /// Water that a stage was rinsed with, or a stage's own reject.
    Rinse,
}

/// How the fluid goes through the stages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Mode {
    /// The whole batch goes through all stages in series, then through them
    /// again where one pass is not enough.
    SinglePass,
    /// The batch is kept well mixed in its tank and pumped in a circle through
    /// the stages.
    Recirculate,
}

/// The two tanks of the recycler.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Tanks {
    /// Where dirty fluid waits.
    pub dirty: Tank,
    /// Where recycled and corrected fluid waits.
    pub clean: Tank,
}

/// A tank.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Tank {
    /// What it holds when full to its working level.
    #[schema(example = 1000.0)]
    pub capacity: Capacity,
    /// What is in it at the start; nothing when left out. In the dirty tank it
    /// is taken to be like the feed, in the clean tank to be on target.
    #[schema(example = 200.0)]
    pub level: Option<Volume>,
}

impl Tank {
    pub(super) fn level(&self) -> f64 {
        self.level.map_or(0.0, Quantity::get)
    }
}

/// Clean fluid that is fetched.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Demand {
    /// When it is fetched, in days from the start of the plan.
    #[schema(example = 1.3)]
    pub day: Days,
    /// How much is fetched.
    #[schema(example = 380.0)]
    pub volume: Volume,
    /// How long fetching takes; at once when left out.
    pub hours: Option<Hours>,
}

/// What the recycled fluid is to be.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecycledTarget {
    /// How strong the corrected fluid is to be.
    #[schema(example = 7.5)]
    pub concentration: Concentration,
    /// What it may carry of each property.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// How well the tank mixes in which the fluid is corrected. When left out, it is
    /// stirred where the batch is recirculated, and stands still otherwise.
    pub mixing: Option<TankMixing>,
}

/// How well a tank mixes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum TankMixing {
    /// By a stirrer or a pump that turns it over: concentrate may be poured in slowly
    /// as it is.
    StirredTank,
    /// Not at all: concentrate goes in as a premix of at most 20 %.
    StillTank,
}

/// Something that keeps coming into a batch while it is recirculated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Source {
    /// The property that it adds to.
    #[serde(deserialize_with = "crate::fluid::properties::name")]
    #[schema(example = "solids", pattern = "^[A-Za-z][A-Za-z0-9_]{0,63}$")]
    pub property: String,
    /// How fast it comes in.
    #[schema(example = 0.02)]
    pub rate: MassRate,
}
