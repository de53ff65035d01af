//! The recycler's stages and its tanks.

use crate::calculations::recycling::separation::Separator;
use crate::fluid::properties::ByProperty;
use crate::quantity::{Capacity, MassRate, Share, Throughput, Volume};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The share of each property that a stage removes.
pub type StageRemoval = ByProperty<Share, Share>;

/// One stage of the recycler.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecyclerStage {
    /// # Stage
    ///
    /// Name of the stage. Each stage has its own.
    pub name: Name,
    /// # Throughput
    ///
    /// Fluid that it takes in an hour.
    #[schema(example = 300.0)]
    pub throughput: Throughput,
    /// # Removes
    ///
    /// Share of each property that it removes on one pass, of what comes to it. Give this or
    /// a separator.
    #[serde(skip_serializing_if = "StageRemoval::is_empty", default)]
    pub removes: StageRemoval,
    /// # Separator
    ///
    /// The machine and the sizes of what it separates, from which the share that it removes
    /// is worked out at the flow of the slowest stage.
    pub separator: Option<Separator>,
    /// # Good fluid lost
    ///
    /// Share of the good fluid that leaves with what it removes. Default: 0.
    #[schema(example = 0.5)]
    pub good_fluid_lost: Option<Share>,
    /// # Bacteria killed
    ///
    /// Share of the bacteria that it kills or removes on one pass (a heated stage). Default:
    /// 0.
    pub kills: Option<Share>,
    /// # Kind of waste
    ///
    /// Kind of waste that it gives. Default: `oil_phase` where it removes tramp oil, else
    /// `sludge`.
    pub waste: Option<StageWasteKind>,
    /// # Rinse water
    ///
    /// Water that it is rinsed with after the batch or, with deliveries, after the whole
    /// plan. Default: 0.
    #[schema(example = 15.0)]
    pub rinse: Option<Volume>,
}

/// A kind of waste.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum StageWasteKind {
    /// Oil that was skimmed or spun off, with the fluid that it holds.
    OilPhase,
    /// Solids, with the fluid that they hold.
    Sludge,
    /// Water that a stage was rinsed with, or a stage's own reject.
    Rinse,
}

/// Flow of the fluid through the stages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RecyclerMode {
    /// The whole batch goes through all stages in series, and through them again where one
    /// pass is not enough.
    SinglePass,
    /// The batch is kept well mixed in its tank and pumped in a circle through the stages.
    Recirculate,
}

/// The two tanks of the recycler.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecyclerTanks {
    /// # Dirty tank
    ///
    /// Tank in which dirty fluid waits.
    pub dirty: RecyclerTank,
    /// # Clean tank
    ///
    /// Tank in which recycled and corrected fluid waits.
    pub clean: RecyclerTank,
}

/// A tank of the recycler.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecyclerTank {
    /// # Capacity
    ///
    /// Volume of the tank when it is full to its working level.
    #[schema(example = 1000.0)]
    pub capacity: Capacity,
    /// # In the tank now
    ///
    /// Fluid in the tank at the start: in the dirty tank like the feed, in the clean tank on
    /// target. Default: 0.
    #[schema(example = 200.0)]
    pub level: Option<Volume>,
}

/// Matter that keeps coming into a batch while it is recirculated.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BatchSource {
    /// # Property
    ///
    /// Property that it adds to.
    #[serde(deserialize_with = "crate::fluid::properties::name")]
    #[schema(example = "solids", pattern = "^[A-Za-z][A-Za-z0-9_]{0,63}$")]
    pub property: String,
    /// # Comes in
    ///
    /// Mass that comes in in an hour.
    #[schema(example = 0.02)]
    pub rate: MassRate,
}
