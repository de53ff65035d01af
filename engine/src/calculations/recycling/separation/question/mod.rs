//! The question: a stage, how fast it is fed, and with what.

use crate::fluid::properties::Properties;
use crate::quantity::{Capacity, Concentration, Hours, MassRate, Throughput};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

mod particles;
mod stage;

pub use particles::{ListedSizes, LogNormalSizes, ParticleSizes, Particles, SizeClass};
pub use stage::{
    CarrierFluid, CoalescerStage, DiscCentrifuge, FilterStage, MembraneRejection, SeparatingStage,
    Separator, SettlingTank, SizeGrade, TankTurbulence, TubularCentrifuge, Ultrafiltration,
};

/// A stage, how fast it is fed, and with what.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Separation {
    /// # Throughput
    ///
    /// Fluid that goes through the stage per hour.
    #[schema(example = 600.0)]
    pub throughput: Throughput,
    /// # Separator
    ///
    /// The stage, the fluid, and the particles to take out of it.
    pub separator: Separator,
    /// # Feed
    ///
    /// The fluid to be cleaned: its volume and what it carries. Without it only shares are
    /// answered.
    pub feed: Option<SeparationFeed>,
    /// # Recirculation
    ///
    /// Recirculation of a well-mixed tank through the stage. Default: one pass.
    pub recirculation: Option<Recirculation>,
}

/// The fluid to be cleaned.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SeparationFeed {
    /// # Volume
    ///
    /// Volume of the fluid.
    #[schema(example = 1000.0)]
    pub volume: Capacity,
    /// # Strength
    ///
    /// Concentration of the fluid. Default: 0.
    #[schema(example = 5.0)]
    pub concentration: Option<Concentration>,
    /// # Carries
    ///
    /// What the fluid carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// A tank that goes round through a stage.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = TankRecirculation)]
pub struct Recirculation {
    /// # Hours
    ///
    /// Number of hours that the tank is recirculated.
    #[schema(example = 8.0)]
    pub hours: Hours,
    /// # Inflows
    ///
    /// What keeps coming into the tank meanwhile. Default: none.
    pub inflows: Option<Vec<TankInflow>>,
}

/// Something that keeps coming into a tank.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TankInflow {
    /// # Property
    ///
    /// The property, one of those among the particles.
    #[serde(deserialize_with = "crate::fluid::properties::name")]
    #[schema(example = "solids", pattern = "^[A-Za-z][A-Za-z0-9_]{0,63}$")]
    pub property: String,
    /// # Comes in
    ///
    /// Mass that comes in per hour, with the same sizes as what is there.
    #[schema(example = 0.02)]
    pub rate: MassRate,
}
