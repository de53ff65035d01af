//! What is bought, and how fluid is worked up on site.

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
    /// Density of the concentrate. Default: that of water at 20 °C.
    #[schema(title = "Density", example = 0.98)]
    pub density: Option<Density>,
    /// Price of the concentrate.
    #[schema(title = "Price", example = 4.8)]
    pub price: Option<MoneyPerVolume>,
    /// The drum it comes in. Default: in bulk, bought as it is used.
    #[schema(title = "Drum")]
    pub drum: Option<ConcentrateDrum>,
}

/// A drum of concentrate.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConcentrateDrum {
    /// Concentrate in a full drum.
    #[schema(title = "Volume of a drum", example = 200.0)]
    pub volume: Capacity,
    /// Mass of an empty drum.
    #[schema(title = "Mass of an empty drum", example = 9.0)]
    pub empty_mass: Mass,
}

/// The water that is bought.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterBought {
    /// Price of the water.
    #[schema(title = "Price", example = 0.004)]
    pub price: Option<MoneyPerVolume>,
    /// What the water carries: hardness, chloride, whatever the shop follows.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    #[schema(title = "In the water")]
    pub properties: Properties,
}

/// Yields of a recycler for the fluid that is drained at a change. What it recovers goes
/// back into the sumps that it came from.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecyclerYields {
    /// Share of the dirty fluid that is recovered.
    #[schema(title = "Recovered", example = 80.0)]
    pub recovered: Share,
    /// Share of the dirty fluid that leaves with the oil split off. Default: 0 %.
    #[schema(title = "Lost with the oil", example = 1.0)]
    pub lost_with_oil: Option<Share>,
    /// Share of the dirty fluid that leaves with the sludge. Default: 0 %.
    #[schema(title = "Lost with the sludge", example = 1.5)]
    pub lost_with_sludge: Option<Share>,
    /// Share of the tramp oil that is split off. Default: 100 %.
    #[schema(title = "Tramp oil removed", example = 90.0)]
    pub oil_removed: Option<Share>,
    /// Spread of the share recovered: how far it may lie above or below the value given,
    /// as a share of it. Default: 0 %.
    #[schema(title = "Spread of the recovery")]
    pub spread: Option<Share>,
}

/// Treatment on site of spent fluid and wash water.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "method", rename_all = "snake_case")]
pub enum OnSiteTreatment {
    /// By a membrane that holds oil back.
    Ultrafiltration(MembraneTreatment),
    /// By boiling the water off and condensing it.
    Evaporation(EvaporatorTreatment),
}

/// A membrane: all tramp oil stays behind, salts pass with the water.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MembraneTreatment {
    /// Volume of the feed for each volume of retentate.
    #[schema(title = "Volume reduction", example = 15.0)]
    pub volume_reduction: Ratio,
    /// Share of the concentrate that stays behind. Default: 100 %.
    #[schema(title = "Concentrate retained", example = 95.0)]
    pub concentrate_retained: Option<Share>,
}

/// An evaporator: everything but water stays behind, salts included.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct EvaporatorTreatment {
    /// Volume of the feed for each volume that stays behind.
    #[schema(title = "Volume reduction", example = 8.0)]
    pub volume_reduction: Ratio,
}
