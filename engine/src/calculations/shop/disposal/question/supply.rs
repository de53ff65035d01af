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
    /// # Density
    ///
    /// Density of the concentrate. Default: that of water at 20 °C.
    #[schema(example = 0.98)]
    pub density: Option<Density>,
    /// # Price
    ///
    /// Price of the concentrate.
    #[schema(example = 4.8)]
    pub price: Option<MoneyPerVolume>,
    /// # Drum
    ///
    /// The drum it comes in. Default: in bulk, bought as it is used.
    pub drum: Option<ConcentrateDrum>,
}

/// A drum of concentrate.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ConcentrateDrum {
    /// # Volume of a drum
    ///
    /// Concentrate in a full drum.
    #[schema(example = 200.0)]
    pub volume: Capacity,
    /// # Mass of an empty drum
    ///
    /// Mass of an empty drum.
    #[schema(example = 9.0)]
    pub empty_mass: Mass,
}

/// The water that is bought.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WaterBought {
    /// # Price
    ///
    /// Price of the water.
    #[schema(example = 0.004)]
    pub price: Option<MoneyPerVolume>,
    /// # In the water
    ///
    /// What the water carries: hardness, chloride, whatever the shop follows.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// Yields of a recycler for the fluid that is drained at a change. What it recovers goes
/// back into the sumps that it came from.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecyclerYields {
    /// # Recovered
    ///
    /// Share of the dirty fluid that is recovered.
    #[schema(example = 80.0)]
    pub recovered: Share,
    /// # Lost with the oil
    ///
    /// Share of the dirty fluid that leaves with the oil split off. Default: 0 %.
    #[schema(example = 1.0)]
    pub lost_with_oil: Option<Share>,
    /// # Lost with the sludge
    ///
    /// Share of the dirty fluid that leaves with the sludge. Default: 0 %.
    #[schema(example = 1.5)]
    pub lost_with_sludge: Option<Share>,
    /// # Tramp oil removed
    ///
    /// Share of the tramp oil that is split off. Default: 100 %.
    #[schema(example = 90.0)]
    pub oil_removed: Option<Share>,
    /// # Spread of the recovery
    ///
    /// Spread of the share recovered: how far it may lie above or below the value given,
    /// as a share of it. Default: 0 %.
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
    /// # Volume reduction
    ///
    /// Volume of the feed for each volume of retentate.
    #[schema(example = 15.0)]
    pub volume_reduction: Ratio,
    /// # Concentrate retained
    ///
    /// Share of the concentrate that stays behind. Default: 100 %.
    #[schema(example = 95.0)]
    pub concentrate_retained: Option<Share>,
}

/// An evaporator: everything but water stays behind, salts included.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct EvaporatorTreatment {
    /// # Volume reduction
    ///
    /// Volume of the feed for each volume that stays behind.
    #[schema(example = 8.0)]
    pub volume_reduction: Ratio,
}
