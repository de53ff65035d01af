//! The question: the sumps of a round, and what there is to do it with.

mod stocks;
mod sumps;
mod vessels;

pub use sumps::{FluidNow, Rinse, SumpToClean, SystemCleaner};
pub use vessels::{AnotherWay, RoundTimes, Vessel, VesselUse};

use crate::fluid::batch::Goal;
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::product_stock::ProductStock;
use crate::fluid::properties::Limits;
use crate::quantity::{Capacity, Concentration, Density, Hours, Quantity, Share};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A round of clean-outs, and what there is to do it with.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Recharge {
    /// # Sumps
    ///
    /// Sumps to clean out and refill.
    pub sumps: Vec<SumpToClean>,
    /// # Stocks
    ///
    /// What there is to mix from, most preferred first.
    pub stocks: Vec<ProductStock>,
    /// # Limits
    ///
    /// Limits on what every batch carries. The stocks say what they carry. Default: none.
    #[serde(skip_serializing_if = "Limits::is_empty", default)]
    pub limits: Limits,
    /// # Prefer
    ///
    /// What to prefer where several batches would do. Default: the least cost.
    pub goal: Option<Goal>,
    /// # Vessels
    ///
    /// What goes along on the trips: tanks, drums, containers, bins, of any number.
    /// Without vessels the answer has batches, quantities and steps, and no trips.
    #[schema(max_items = 100)]
    pub vessels: Option<Vec<Vessel>>,
    /// # Times
    ///
    /// Time of each piece of the work. Default: none, and no hours in the answer.
    pub times: Option<RoundTimes>,
    /// # Bulk density of chips
    ///
    /// Bulk density of the chips as they lie, the air between them included; of the
    /// bulkiest where they differ. Default: vessels for chips are full by their rated load
    /// alone.
    #[schema(example = 0.6)]
    pub chip_density: Option<Density>,
    /// # Other way
    ///
    /// Another way of doing the same round, to compare the hours with. Default: none.
    pub another_way: Option<AnotherWay>,
    /// # Largest batch
    ///
    /// Largest batch that can be mixed at once; larger ones are made in equal mixes.
    /// Default: of any size.
    #[schema(example = 400.0)]
    pub batch_at_most: Option<Capacity>,
    /// # Strongest premix
    ///
    /// Strongest mix that goes into a sump, as the fluid's own sheet says. Default: 20.
    #[schema(example = 20.0)]
    pub premix_at_most: Option<Concentration>,
    /// # Strengths may differ by
    ///
    /// Points of strength by which refills of one product may differ and still share a
    /// batch. Default: 0.2.
    pub strength_tolerance: Option<Share>,
    /// # Dirty fluids may mix
    ///
    /// Whether dirty fluid of one product may stay in its vessels when the next trip
    /// fetches another. Default: false, kept apart.
    pub mixing_dirty: Option<bool>,
    /// # Measured out to
    ///
    /// What the amounts of the batches are measured out to, for instance half a litre.
    /// Default: by their size.
    #[schema(example = 0.5)]
    pub measures_to: Option<Capacity>,
}

impl Recharge {
    pub(super) fn may_mix_dirty(&self) -> bool {
        self.mixing_dirty.unwrap_or(false)
    }

    /// The strongest mix that goes into a sump, % by volume.
    pub(super) fn premix_bound(&self) -> f64 {
        self.premix_at_most.map_or(PREMIX_AT_MOST, Quantity::get)
    }

    /// The refractometer factor of a product, where one of its sumps says it.
    pub(super) fn factor(&self, product: &str) -> Option<f64> {
        let mut own = self.sumps.iter().filter(|sump| sump.product == product);
        own.find_map(|sump| sump.factor).map(Quantity::get)
    }

    /// How long before the round the first cleaner goes in.
    pub(super) fn begins_before(&self) -> Option<Hours> {
        let hours = self.sumps.iter().filter_map(|sump| sump.cleaner.map(|c| c.hours));
        hours.reduce(|a, b| if b > a { b } else { a })
    }
}
