//! The sumps of a round as they are, and what they are to be brought to.

use crate::properties::Properties;
use crate::quantity::{Capacity, Concentration, Count, Hours, Mass, Volume};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A machine's sump to clean out and refill.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpToClean {
    /// What the shop calls the machine. Each sump has its own name.
    #[serde(deserialize_with = "crate::text::name")]
    #[schema(example = "lathe 2", min_length = 1, max_length = 128)]
    pub name: String,
    /// The fluid that belongs into it. Fluids with different names are never mixed.
    #[serde(deserialize_with = "crate::text::name")]
    #[schema(example = "product A", min_length = 1, max_length = 128)]
    pub product: String,
    /// What it holds at its working level.
    pub volume: Capacity,
    /// How strong the fluid is to be after the refill.
    pub target: Concentration,
    /// What the suction cannot reach: corners, pipes, the pump chamber.
    pub residue: Volume,
    /// How strong that residue is.
    pub residue_concentration: Concentration,
    /// What else the residue carries; the same as the fluid now when left out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub residue_properties: Properties,
    /// The mass of chips and sludge to expect in it, wet as they come out.
    pub solids: Mass,
    /// Flushing after it is sucked out; none when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flush: Option<Flush>,
    /// What is in it before the clean-out; full of what the residue is when
    /// left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub fluid_now: Option<FluidNow>,
    /// How long the same clean-out takes by hand, when it differs from what the
    /// times say for any sump.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by_hand_hours: Option<Hours>,
}

/// Flushing a sump after it is sucked out: hosed down, mixed with the residue,
/// and sucked out again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Flush {
    /// How much goes in at a time.
    pub volume: Capacity,
    /// How many times, a whole number.
    pub times: Count,
    /// The name of the stock to flush with. It is drawn at the machine.
    #[schema(example = "tap water")]
    pub stock: String,
}

/// What is in a sump before it is cleaned out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FluidNow {
    /// All of it, with what the suction cannot reach.
    pub volume: Volume,
    /// How strong the part is that the suction reaches.
    pub concentration: Concentration,
    /// What else that part carries; the same as the residue when left out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}
