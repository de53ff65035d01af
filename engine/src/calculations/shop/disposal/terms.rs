//! What is bought, and how fluid is worked up on site.

mod leaving;

pub use leaving::{
    ChangesFall, MetalCut, SpreadSampling, StreamTerms, WasteContainer, WasteFacts, WasteStorage,
};

use crate::fluid::properties::Properties;
use crate::quantity::{Capacity, Density, Mass, MoneyPerVolume, Ratio, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The concentrate that is bought.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConcentrateBought {
    /// Its density; that of water at 20 °C when left out.
    #[schema(example = 0.98)]
    pub density: Option<Density>,
    /// What it costs.
    #[schema(example = 4.8)]
    pub price: Option<MoneyPerVolume>,
    /// The drum it comes in; in bulk, as much as is used, when left out.
    pub drum: Option<ConcentrateDrum>,
}

/// A drum of concentrate.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConcentrateDrum {
    /// Concentrate in a full one.
    #[schema(example = 200.0)]
    pub volume: Capacity,
    /// Mass of an empty one.
    #[schema(example = 9.0)]
    pub empty_mass: Mass,
}

/// The water that is bought.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterBought {
    /// What it costs.
    #[schema(example = 0.004)]
    pub price: Option<MoneyPerVolume>,
    /// What it carries: hardness, chloride, whatever the shop follows.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// What a recycler makes of the fluid that is drained at a change. What it
/// recovers goes back into the sumps that it came from.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecyclerYields {
    /// How much of the dirty fluid it recovers.
    #[schema(example = 80.0)]
    pub recovered: Share,
    /// How much of the dirty fluid leaves with the oil that it splits off; none
    /// when left out.
    #[schema(example = 1.0)]
    pub lost_with_oil: Option<Share>,
    /// How much of the dirty fluid leaves with its sludge; none when left out.
    #[schema(example = 1.5)]
    pub lost_with_sludge: Option<Share>,
    /// How much of the tramp oil it splits off; all of it when left out.
    #[schema(example = 90.0)]
    pub oil_removed: Option<Share>,
    /// How far the share recovered may lie above or below what is given, as a
    /// share of it.
    pub spread: Option<Share>,
}

/// Treatment on site of the spent fluid and the wash water that are left over.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "method", rename_all = "snake_case")]
pub enum OnSiteTreatment {
    /// By a membrane that holds oil back.
    Ultrafiltration(MembraneTreatment),
    /// By boiling the water off and condensing it.
    Evaporation(EvaporatorTreatment),
}

/// A membrane: tramp oil stays behind in full, salts pass with the water.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MembraneTreatment {
    /// Volume of the feed for each volume of retentate.
    #[schema(example = 15.0)]
    pub volume_reduction: Ratio,
    /// How much of the concentrate stays behind; all of it when left out.
    #[schema(example = 95.0)]
    pub concentrate_retained: Option<Share>,
}

/// An evaporator: everything but water stays behind, salts included.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct EvaporatorTreatment {
    /// Volume of the feed for each volume that stays behind.
    #[schema(example = 8.0)]
    pub volume_reduction: Ratio,
}
