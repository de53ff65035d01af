//! The sumps of a round as they are, and what they are to be brought to.

use crate::fluid::properties::Properties;
use crate::quantity::{
    Capacity, Concentration, Count, Hours, Mass, Minutes, Quantity, RefractometerFactor, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A machine's sump to clean out and refill.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpToClean {
    /// What the shop calls the machine. Each sump has its own name.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "lathe 2", min_length = 1, max_length = 128)]
    pub name: String,
    /// The fluid that belongs into it. Fluids with different names are never mixed.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "product A", min_length = 1, max_length = 128)]
    pub product: String,
    /// What it holds at its working level.
    pub volume: Capacity,
    /// How strong the fluid is to be after the refill.
    pub target: Concentration,
    /// The refractometer factor of its fluid, for the readings on the job sheet; no
    /// readings when left out.
    pub factor: Option<RefractometerFactor>,
    /// What stays in it when it is emptied: corners, pipes, the pump chamber. Nothing
    /// when left out.
    pub residue: Option<Volume>,
    /// How strong that residue is; as strong as the fluid now, or as the target, when
    /// left out.
    pub residue_concentration: Option<Concentration>,
    /// What else the residue carries; the same as the fluid now when left out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub residue_properties: Properties,
    /// The mass of chips and sludge to expect in it, wet as they come out; none when
    /// left out.
    pub chips: Option<Mass>,
    /// System cleaner that circulates before the sump is emptied; none when left out.
    pub cleaner: Option<SystemCleaner>,
    /// Scraping out chip beds and wiping walls once it is empty; no time of its own
    /// when left out.
    pub scraping_minutes: Option<Minutes>,
    /// Rinsing after it is emptied and cleaned; none when left out.
    pub rinse: Option<Rinse>,
    /// What is in it before the clean-out; full of what the residue is when
    /// left out.
    pub fluid_now: Option<FluidNow>,
}

/// System cleaner that goes into the old fluid and circulates with it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SystemCleaner {
    /// How much, as a share of what is in the sump. Its label says how much.
    #[schema(example = 2.0)]
    pub dose: Concentration,
    /// How long it circulates before the sump is emptied. Its label says how long.
    #[schema(example = 8.0)]
    pub hours: Hours,
}

/// Rinsing a sump after it is emptied: hosed down, mixed with the residue, and taken out
/// again. With a weak mix of the sump's own product, or with a stock.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Rinse {
    /// How much goes in at a time.
    pub volume: Capacity,
    /// How many times, a whole number; once when left out.
    #[schema(example = 1)]
    pub times: Option<Count>,
    /// How strong the mix of the sump's own product is that it is rinsed with. Give
    /// this or a stock.
    #[schema(example = 1.5)]
    pub strength: Option<Concentration>,
    /// The name of the stock to rinse with, drawn at the machine. Give this or a
    /// strength.
    pub stock: Option<String>,
}

/// What is in a sump before it is cleaned out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FluidNow {
    /// All of it, with what stays in when it is emptied.
    pub volume: Volume,
    /// How strong the part is that can be taken out.
    pub concentration: Concentration,
    /// What else that part carries; the same as the residue when left out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

impl SumpToClean {
    /// What stays in it when it is emptied, L.
    pub(in super::super) fn stays(&self) -> f64 {
        self.residue.map_or(0.0, Quantity::get)
    }

    /// How strong that is, % by volume.
    pub(in super::super) fn stays_at(&self) -> f64 {
        let now = self.fluid_now.as_ref().map(|now| now.concentration);
        self.residue_concentration.or(now).unwrap_or(self.target).get()
    }

    /// The chips to fetch from it, kg.
    pub(in super::super) fn chips(&self) -> f64 {
        self.chips.map_or(0.0, Quantity::get)
    }

    /// What is in it before, L.
    pub(in super::super) fn volume_now(&self) -> f64 {
        self.fluid_now.as_ref().map_or(self.volume.get(), |now| now.volume.get())
    }

    pub(in super::super) fn concentration_now(&self) -> f64 {
        self.fluid_now.as_ref().map_or_else(|| self.stays_at(), |now| now.concentration.get())
    }

    /// The system cleaner that goes in, L.
    pub(in super::super) fn cleaner_volume(&self) -> f64 {
        self.cleaner.map_or(0.0, |cleaner| self.volume_now() * cleaner.dose.get() / 100.0)
    }

    /// What the part carries that can be taken out.
    pub(in super::super) fn pumped_properties(&self) -> &Properties {
        let now = self.fluid_now.as_ref().map(|now| &now.properties);
        now.filter(|own| !own.is_empty()).unwrap_or(&self.residue_properties)
    }

    /// What the part carries that stays.
    pub(in super::super) fn left_properties(&self) -> &Properties {
        if self.residue_properties.is_empty() {
            self.pumped_properties()
        } else {
            &self.residue_properties
        }
    }
}

impl Rinse {
    /// How many times; checked to be a whole number, and a small one.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "checked to be a whole number from 1 on"
    )]
    pub(in super::super) fn whole_times(&self) -> usize {
        self.times.map_or(1.0, Quantity::get) as usize
    }

    /// What goes in, all times together, L.
    pub(in super::super) fn in_all(&self) -> f64 {
        self.volume.get() * self.times.map_or(1.0, Quantity::get)
    }
}
