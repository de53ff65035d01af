//! A machine's sump: what it holds and what is in it.

use crate::fluid::properties::Properties;
use crate::fluid::reading::Reading;
use crate::fluid::stock;
use crate::quantity::Quantity;
use crate::quantity::{Capacity, Concentration, Mark, Volume};
use crate::text::{Faults, Kind, Refusal, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A machine's sump as it is now.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Sump {
    /// What it holds when full to its working level.
    #[schema(example = 200.0)]
    pub capacity: Capacity,
    /// What is in it now.
    #[schema(example = 140.0)]
    pub volume: Volume,
    /// How strong the fluid in it is. Give this or a reading; neither is needed
    /// for an empty sump.
    pub concentration: Option<Concentration>,
    /// What an instrument says about the fluid in it.
    pub reading: Option<Reading>,
    /// What else the fluid in it carries.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// The sump afterwards.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct SumpAfter {
    /// What is in it.
    pub volume: Volume,
    /// How strong it is.
    pub concentration: Concentration,
    /// What the instrument of the reading must show then: °Brix, refractive
    /// index, or millilitres, as the reading was. Absent without a reading, or
    /// where the instrument's scale or its table does not reach so far.
    pub mark: Option<Mark>,
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
}

impl Sump {
    /// Notes what a sump, the member `sump` of a request, contradicts itself in.
    pub(crate) fn check(&self, faults: &mut Faults) {
        if self.volume.get() > self.capacity.get() {
            let detail = "The sump is fuller than full: {} in a capacity of {}.";
            let detail = Sentence::new(detail).with(self.volume.measure());
            faults.add("/sump/volume", detail.with(self.capacity.measure()));
        }
        if self.concentration.is_some() && self.reading.is_some() {
            let detail = "The strength of the fluid in the sump is given twice, as a concentration \
                          and as a reading. Give one of them.";
            faults.add("/sump/reading", Sentence::new(detail));
        }
        if let Ok(Some(concentration)) = self.strength() {
            stock::check_volume_shares(concentration, &self.properties, "/sump", faults);
        }
    }

    /// Refuses a sump with fluid in it of which nobody knows how strong it is.
    pub(crate) fn check_strength_given(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        if self.concentration.is_none() && self.reading.is_none() && self.volume.get() > 0.0 {
            let detail = "The strength of the fluid in the sump is missing. Give its concentration \
                          in % by volume, or a reading.";
            faults.add("/sump/concentration", Sentence::new(detail));
        }
        faults.or_refuse(Kind::NotIdentifiable)
    }
}
