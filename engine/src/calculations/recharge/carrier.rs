//! The carrier that brings clean fluid and fetches dirty, and how long its work
//! takes.

use crate::quantity::{Capacity, Hours, Mass, Minutes, PumpRate, Quantity, Share};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A vacuum carrier with a clean tank, a dirty tank and a basket for chips.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Carrier {
    /// What its clean tank holds.
    pub clean_tank: Capacity,
    /// What its dirty tank holds to the brim.
    pub dirty_tank: Capacity,
    /// How much of the dirty tank may be filled before the high-level cut-out,
    /// which must not be reached.
    pub usable_share: Share,
    /// The rated load of its chip basket. No plan goes beyond it.
    pub solids_basket: Mass,
    /// How fast it sucks out dirty fluid.
    pub suction_rate: PumpRate,
    /// How fast it pumps in clean fluid.
    pub discharge_rate: PumpRate,
}

impl Carrier {
    /// What may be in the dirty tank, L.
    pub(super) fn usable(&self) -> f64 {
        self.dirty_tank.get() * self.usable_share.get() / 100.0
    }
}

/// How long each piece of the work takes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RoundTimes {
    /// At each machine: locking it out, opening it, laying and rolling up hoses.
    pub setup_minutes: Minutes,
    /// Each drive: from the station to a machine, on to the next, or back.
    pub travel_minutes: Minutes,
    /// Emptying the dirty tank at the station.
    pub tank_emptying_minutes: Minutes,
    /// Emptying the basket. When left out, the basket is emptied at the station
    /// only, in no time of its own; when given, also on the way, whenever it is
    /// full.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub basket_emptying_minutes: Option<Minutes>,
    /// Filling the clean tank before a trip; no time when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub loading_minutes: Option<Minutes>,
    /// Hosing down for one flush; as long as pumping it in when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub flush_minutes: Option<Minutes>,
    /// How long the clean-out of a sump takes by hand, for a comparison.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by_hand_hours: Option<Hours>,
}
