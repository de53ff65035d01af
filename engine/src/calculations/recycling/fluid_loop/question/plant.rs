//! The recycler, its tanks, and the water and concentrate that are bought.

use crate::fluid::hardness::HardnessMeasured;
use crate::fluid::properties::{ByProperty, Properties};
use crate::quantity::{Capacity, Density, Share, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The share of each property that a treatment takes out.
pub type RemovedByRecycler = ByProperty<Share, Share>;

/// A recycler for drained fluid, as shares of what it is fed.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopRecycler {
    /// # Share recycled
    ///
    /// Share of the returned fluid that goes through the recycler. The rest is disposed of.
    /// Default: 100.
    #[schema(example = 90.0)]
    pub share: Option<Share>,
    /// # Lost with oil and sludge
    ///
    /// Share of the fluid fed to the recycler that leaves unchanged with the oil and the
    /// sludge.
    #[schema(example = 5.0)]
    pub lost: Share,
    /// # Taken out
    ///
    /// Share of each property that the recycler takes out of the rest. Default: 0 for every
    /// property that is not named.
    #[serde(skip_serializing_if = "RemovedByRecycler::is_empty", default)]
    pub removes: RemovedByRecycler,
    /// # Concentrate taken out
    ///
    /// Share of the concentrate that the recycler takes out of the rest as well. Default: 0.
    pub removes_concentrate: Option<Share>,
}

/// The tanks before and after the recycler.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopTanks {
    /// # Dirty tank
    ///
    /// Tank for drained fluid. Default: none.
    pub dirty: Option<LoopTank>,
    /// # Clean tank
    ///
    /// Tank for recovered fluid. Default: none.
    pub clean: Option<LoopTank>,
}

/// A well-mixed tank.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopTank {
    /// # Capacity
    ///
    /// Volume of the tank when it is full.
    #[schema(example = 1000.0)]
    pub capacity: Capacity,
    /// # Left in the tank
    ///
    /// Fluid left in the tank after the day's work is taken out of it. Default: half of the
    /// capacity.
    #[schema(example = 400.0)]
    pub holds: Option<Volume>,
    /// # In the fluid now
    ///
    /// Content of the fluid in the tank on the first day that is followed. Default: freshly
    /// mixed fluid.
    pub carries_now: Option<Properties>,
}

/// The water that make-up and refills are mixed with.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopWater {
    /// # In the water
    ///
    /// Content of the water as it comes from the main. Default: 0 for every property that is
    /// not named.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Hardness of the water
    ///
    /// Hardness of the water with its unit, in place of one among its content.
    pub hardness: Option<HardnessMeasured>,
    /// # Deionised water
    ///
    /// Deionised water that replaces a share of it. Default: none.
    pub deionised: Option<DeionisedShare>,
}

/// Deionised water in place of some of the water.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DeionisedShare {
    /// # Share of the water
    ///
    /// Share of deionised water in all the water.
    #[schema(example = 25.0)]
    pub share: Share,
    /// # In the deionised water
    ///
    /// Content of the deionised water. Default: 0 for every property that is not named.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Hardness left in it
    ///
    /// Hardness of the deionised water with its unit, in place of one among its content.
    pub hardness: Option<HardnessMeasured>,
}

/// The concentrate as it is bought.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopConcentrate {
    /// # Density
    ///
    /// Density of the concentrate. Default: the density of water at 20 °C.
    pub density: Option<Density>,
    /// # In the concentrate
    ///
    /// Content of the concentrate, in the litre of concentrate. Default: 0 for every property
    /// that is not named.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}
