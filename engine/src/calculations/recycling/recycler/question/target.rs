//! The clean fluid that is wanted: how strong, how clean, and when it is fetched.

use crate::fluid::properties::Limits;
use crate::quantity::{Concentration, Days, Hours, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Clean fluid that is fetched.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CleanDemand {
    /// # Day
    ///
    /// Time at which it is fetched, in days from the start of the plan.
    #[schema(example = 1.3)]
    pub day: Days,
    /// # Volume
    ///
    /// Volume that is fetched.
    #[schema(example = 380.0)]
    pub volume: Volume,
    /// # Fetched over
    ///
    /// Time that fetching takes. Default: 0.
    pub hours: Option<Hours>,
}

/// Strength and limits of the recycled fluid.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RecycledTarget {
    /// # Concentration
    ///
    /// Strength of the corrected fluid.
    #[schema(example = 7.5)]
    pub concentration: Concentration,
    /// # Limits
    ///
    /// Limits of each property in the corrected fluid.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// # Mixing of the tank
    ///
    /// Mixing of the tank in which the fluid is corrected. Default: `stirred_tank` where the
    /// batch is recirculated, else `still_tank`.
    pub mixing: Option<TankMixing>,
}

/// Mixing of a tank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum TankMixing {
    /// A stirrer or a pump turns it over: concentrate may be poured in slowly as it is.
    StirredTank,
    /// None: concentrate goes in as a premix of at most 20 %.
    StillTank,
}
