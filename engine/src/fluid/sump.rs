//! A machine's sump: what it holds and what is in it.

use crate::fluid::properties::Properties;
use crate::fluid::reading::Reading;
use crate::fluid::stock;
use crate::quantity::{Capacity, Concentration, Mark, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A machine's sump as it is now.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = MachineSump)]
pub struct Sump {
    /// # Sump holds
    ///
    /// Volume of the sump filled to its working level.
    #[schema(example = 200.0)]
    pub capacity: Capacity,
    /// # In the sump now
    ///
    /// Volume of the fluid in it now.
    #[schema(example = 140.0)]
    pub volume: Volume,
    /// # Strength now
    ///
    /// Strength of the fluid in it. Give this or a reading; an empty sump needs
    /// neither.
    pub concentration: Option<Concentration>,
    /// # Reading now
    ///
    /// Reading of an instrument, in place of the strength.
    pub reading: Option<Reading>,
    /// # Carried now
    ///
    /// What else the fluid in it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// The sump afterwards.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpAfter {
    /// # In the sump then
    ///
    /// Volume of the fluid in it.
    pub volume: Volume,
    /// # Strength then
    ///
    /// Strength of the fluid in it.
    pub concentration: Concentration,
    /// # Instrument must read
    ///
    /// What the instrument must read then: °Brix, refractive index, or
    /// millilitres, as the reading was. Absent without a reading, or where the
    /// instrument's scale or its table does not reach so far.
    pub mark: Option<Mark>,
    /// # Carried then
    ///
    /// What else it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

impl Sump {
    /// How strong the fluid in it is, as far as the request says, in which it is
    /// the member `sump`.
    pub fn strength(&self) -> Result<Option<Concentration>, Refusal> {
        match (self.concentration, &self.reading) {
            (None, Some(reading)) => reading.concentration("/sump/reading").map(Some),
            (concentration, _) => Ok(concentration),
        }
    }

    /// Notes what a sump, the member `sump` of a request, contradicts itself in.
    pub(crate) fn check(&self, faults: &mut Faults) {
        if self.volume.get() > self.capacity.get() {
            let detail = sentence!(
                "It is fuller than full: {} in a capacity of {}.",
                self.volume,
                self.capacity
            );
            faults.add("/sump/volume", detail);
        }
        if self.concentration.is_some() && self.reading.is_some() {
            let detail = sentence!(
                "The strength of the fluid in the sump is given twice, as a concentration and as a \
                 reading. Give one of them."
            );
            faults.add("/sump/reading", detail);
        }
        if let Ok(Some(concentration)) = self.strength() {
            stock::check_volume_shares(concentration, &self.properties, "/sump", faults);
        }
    }

    /// Refuses a sump with fluid in it of which nobody knows how strong it is.
    pub(crate) fn check_strength_given(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        if self.concentration.is_none() && self.reading.is_none() && self.volume.get() > 0.0 {
            let detail = sentence!(
                "The strength of the fluid in the sump is missing. Give its concentration in % by \
                 volume, or a reading."
            );
            faults.add("/sump/concentration", detail);
        }
        faults.or_refuse(Kind::NotIdentifiable)
    }
}
