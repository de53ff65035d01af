//! What flows in a year, to each group, and day by day.

use crate::fluid::properties::Properties;
use crate::quantity::{Concentration, Count, DailyRate, Ratio, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Purchases, recycled fluid and waste of a year.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LoopYear {
    /// # Concentrate to buy
    ///
    /// Concentrate to buy.
    pub concentrate: Volume,
    /// # Water to buy
    ///
    /// Water to buy, without the deionised water.
    pub water: Volume,
    /// # Deionised water
    ///
    /// Deionised water to buy or make.
    pub deionised_water: Volume,
    /// # Oil leaked in
    ///
    /// Tramp oil that comes in from the machines.
    pub oil_leaked: Volume,
    /// # Drained
    ///
    /// Fluid drained at clean-outs.
    pub drained: Volume,
    /// # Recycled into sumps
    ///
    /// Recycled fluid that comes back into a sump.
    pub recycled: Volume,
    /// # To disposal
    ///
    /// All fluid, oil and sludge that goes to disposal.
    pub disposed: Volume,
    /// # Oil and sludge
    ///
    /// Oil and sludge from the recycler, as a part of what is disposed of.
    pub oil_and_sludge: Volume,
    /// # Discarded on purpose
    ///
    /// Recycled fluid discarded on purpose, as a part of what is disposed of.
    pub purged: Volume,
    /// # Left over
    ///
    /// Recycled fluid that no sump has room for, as a part of what is disposed of: it is too
    /// strong or too weak for the sumps that may take it.
    pub surplus: Volume,
    /// # Evaporated
    ///
    /// Water lost to evaporation.
    pub evaporated: Volume,
    /// # Carried off
    ///
    /// Fluid carried off on chips, on parts and as mist.
    pub carried_off: Volume,
}

/// A group of sumps at steady state.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SettledGroup {
    /// # Group
    ///
    /// Name of the group.
    #[schema(example = "lathes")]
    pub name: String,
    /// # Cycles of concentration
    ///
    /// Cycles of concentration: salt in a sump just before its clean-out, divided by salt in
    /// fresh fluid, for a salt that no treatment takes out.
    pub cycles: Ratio,
    /// # Make-up in a day
    ///
    /// Make-up of one sump in a day, which holds its level and its strength.
    pub make_up: GroupMakeUp,
    /// # Refill
    ///
    /// Refill of one sump after a clean-out. Absent when it has none.
    pub refill: Option<GroupRefill>,
    /// # Before a clean-out
    ///
    /// Content of the fluid in a sump just before its clean-out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub oldest: Properties,
    /// # After a refill
    ///
    /// Content of the fluid in a sump just after its refill.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub refilled: Properties,
}

/// Make-up of one sump in a day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct GroupMakeUp {
    /// # Recycled fluid
    ///
    /// Recycled fluid.
    pub recycled: DailyRate,
    /// # Concentrate
    ///
    /// Fresh concentrate.
    pub concentrate: DailyRate,
    /// # Water
    ///
    /// Fresh water.
    pub water: DailyRate,
    /// # Concentration
    ///
    /// Strength of the whole make-up.
    pub concentration: Concentration,
}

/// Refill of one sump after a clean-out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct GroupRefill {
    /// # Recycled fluid
    ///
    /// Recycled fluid.
    pub recycled: Volume,
    /// # Concentrate
    ///
    /// Fresh concentrate.
    pub concentrate: Volume,
    /// # Water
    ///
    /// Fresh water.
    pub water: Volume,
}

/// A day on the way to steady state.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LoopDay {
    /// # Day
    ///
    /// Number of the day; 0 is the start.
    pub day: Count,
    /// # Highest in a sump
    ///
    /// Highest content of each property in the sumps that are drained or refilled on this
    /// day or are never drained.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub highest: Properties,
    /// # In recycled fluid
    ///
    /// Content of the fluid that the clean tank gives on this day. Absent when none is
    /// recycled.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub recycled: Properties,
}
