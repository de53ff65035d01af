//! What is done to a sump on one day, beside feeding it.

use crate::fluid::properties::Properties;
use crate::quantity::{Capacity, Concentration, Days};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A change to the sump on one day. What is removed is removed first.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PlannedChange {
    /// # On day
    ///
    /// The day, counted from today as day 0.
    #[schema(example = 12.0)]
    pub day: Days,
    /// # Drained
    ///
    /// Fluid drained, as it is in the sump on that day.
    pub removed: Option<PlannedRemoval>,
    /// # Poured in
    ///
    /// Fluid poured in.
    pub added: Option<PlannedAddition>,
}

/// Fluid drained from a sump.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PlannedRemoval {
    /// # Volume
    ///
    /// Volume drained.
    #[schema(example = 40.0)]
    pub volume: Capacity,
}

/// Fluid poured into a sump.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct PlannedAddition {
    /// # Volume
    ///
    /// Volume poured in.
    #[schema(example = 40.0)]
    pub volume: Capacity,
    /// # Strength
    ///
    /// Concentration of what is poured in.
    #[schema(example = 8.0)]
    pub concentration: Concentration,
    /// # Carries
    ///
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}
