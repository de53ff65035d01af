//! What flows in a year, to each group, and day by day.

use crate::fluid::properties::Properties;
use crate::quantity::{Concentration, Count, DailyRate, Ratio, Volume};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a year takes and gives.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Yearly {
    /// Fresh concentrate to buy.
    pub concentrate: Volume,
    /// Water to buy, without the deionised.
    pub water: Volume,
    /// Deionised water to buy or make.
    pub deionised_water: Volume,
    /// Tramp oil that comes in from the machines.
    pub oil_leaked: Volume,
    /// Drained at clean-outs.
    pub drained: Volume,
    /// Recycled fluid that comes back into a sump.
    pub recycled: Volume,
    /// All that goes to disposal, the oil and sludge of the recycler included.
    pub disposed: Volume,
    /// Of that, what leaves the recycler as oil phase and sludge.
    pub oil_and_sludge: Volume,
    /// Of that, recycled fluid discarded on purpose.
    pub purged: Volume,
    /// Of that, recycled fluid that no refill has room for, because it is too
    /// strong or too weak for the sumps that could take it.
    pub surplus: Volume,
    /// Water lost to the air.
    pub evaporated: Volume,
    /// Fluid carried off on chips, parts and as mist.
    pub carried_off: Volume,
}

/// A group of sumps when the loop has settled.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct GroupSettled {
    /// The group.
    #[schema(example = "lathes")]
    pub name: String,
    /// How many times what fresh fluid brings is in an old sump of this group,
    /// for a salt that no treatment takes out.
    pub cycles: Ratio,
    /// What one sump is fed in a day to hold its level and its strength.
    pub make_up: MakeUpFlow,
    /// What one sump is refilled with at a clean-out; absent when it has none.
    pub refill: Option<RefillMix>,
    /// What a sump carries just before its clean-out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub oldest: Properties,
    /// What it carries just after its refill.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub refilled: Properties,
}

/// What a sump is fed in a day.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MakeUpFlow {
    /// Recycled fluid.
    pub recycled: DailyRate,
    /// Fresh concentrate.
    pub concentrate: DailyRate,
    /// Fresh water.
    pub water: DailyRate,
    /// How strong they are together.
    pub concentration: Concentration,
}

/// What a sump is refilled with.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RefillMix {
    /// Recycled fluid.
    pub recycled: Volume,
    /// Fresh concentrate.
    pub concentrate: Volume,
    /// Fresh water.
    pub water: Volume,
}

/// A day of the way there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LoopDay {
    /// The day; 0 is the start.
    pub day: Count,
    /// The most that any sump carries that is drained or refilled on the day,
    /// or is never drained.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub highest: Properties,
    /// What the clean tank gives that day; absent when nothing is recycled.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub recycled: Properties,
}
