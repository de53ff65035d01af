//! The sumps of a round as they are, and what they are to be brought to.

use crate::fluid::properties::Properties;
use crate::quantity::{
    Capacity, Concentration, Count, Hours, Mass, Minutes, Quantity, RefractometerFactor, Volume,
};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A machine's sump to clean out and refill.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpToClean {
    /// # Machine
    ///
    /// Name of the machine, different for each sump.
    pub name: Name,
    /// # Product
    ///
    /// Product that belongs into it. Products with different names are never mixed.
    pub product: Name,
    /// # Sump holds
    ///
    /// Volume at its working level.
    pub volume: Capacity,
    /// # Strength wanted
    ///
    /// Strength after the refill.
    pub target: Concentration,
    /// # Refractometer factor
    ///
    /// Refractometer factor of its fluid, for the readings on the job sheet. Default: none,
    /// and no readings.
    pub factor: Option<RefractometerFactor>,
    /// # Stays when emptied
    ///
    /// Volume that stays in it when it is emptied: corners, pipes, the pump chamber.
    /// Default: 0.
    pub residue: Option<Volume>,
    /// # Strength of what stays
    ///
    /// Strength of that residue. Default: that of the fluid now, or of the target.
    pub residue_concentration: Option<Concentration>,
    /// # Carried by what stays
    ///
    /// What else the residue carries. Default: the same as the fluid now.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub residue_properties: Properties,
    /// # Chips and sludge
    ///
    /// Mass of chips and sludge to expect in it, wet as they come out. Default: 0.
    pub chips: Option<Mass>,
    /// # System cleaner
    ///
    /// System cleaner that circulates before the sump is emptied. Default: none.
    pub cleaner: Option<SystemCleaner>,
    /// # Scraping takes
    ///
    /// Time for scraping out chip beds and wiping walls once it is empty. Default: 0, and no
    /// such step.
    pub scraping_minutes: Option<Minutes>,
    /// # Rinse
    ///
    /// Rinsing after it is emptied and cleaned. Default: none.
    pub rinse: Option<Rinse>,
    /// # Fluid now
    ///
    /// Fluid in it before the clean-out. Default: full of what the residue is.
    pub fluid_now: Option<FluidNow>,
}

/// System cleaner that goes into the old fluid and circulates with it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SystemCleaner {
    /// # Dose
    ///
    /// Dose, as a share of what is in the sump, by its label.
    #[schema(example = 2.0)]
    pub dose: Concentration,
    /// # Circulates for
    ///
    /// Time that it circulates before the sump is emptied, by its label.
    #[schema(example = 8.0)]
    pub hours: Hours,
}

/// Rinsing a sump after it is emptied: hosed down, mixed with the residue, and taken out
/// again. With a weak mix of the sump's own product, or with a stock.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = RinseOfSump)]
pub struct Rinse {
    /// # Volume at a time
    ///
    /// Volume that goes in at a time.
    pub volume: Capacity,
    /// # Times
    ///
    /// Number of times. Default: 1.
    #[schema(example = 1)]
    pub times: Option<Count>,
    /// # Strength of the mix
    ///
    /// Strength of the mix of the sump's own product that it is rinsed with. Give this or a
    /// stock.
    #[schema(example = 1.5)]
    pub strength: Option<Concentration>,
    /// # Stock
    ///
    /// Name of the stock to rinse with, drawn at the machine. Give this or a strength.
    pub stock: Option<String>,
}

/// What is in a sump before it is cleaned out.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FluidNow {
    /// # In the sump now
    ///
    /// Volume of all of it, with what stays in when it is emptied.
    pub volume: Volume,
    /// # Strength now
    ///
    /// Strength of the part that can be taken out.
    pub concentration: Concentration,
    /// # Carried now
    ///
    /// What else that part carries. Default: the same as the residue.
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
    /// Number of times; checked to be a small one.
    pub(in super::super) fn whole_times(&self) -> usize {
        self.times.map_or(1, Count::whole)
    }

    /// What goes in, all times together, L.
    pub(in super::super) fn in_all(&self) -> f64 {
        self.volume.get() * self.times.map_or(1.0, Quantity::get)
    }
}
