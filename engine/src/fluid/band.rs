//! The band that a fluid is kept in, and where a fluid stands against it.

use crate::fluid::practice;
use crate::fluid::reading::Reading;
use crate::quantity::Quantity;
use crate::quantity::{Concentration, Mark};
use crate::text::{Faults, Finding, Kind, Refusal, Sentence};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The band a fluid is to be kept in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Band {
    /// The weakest it may be.
    #[schema(example = 5.5)]
    pub low: Concentration,
    /// What to aim for.
    #[schema(example = 6.25)]
    pub target: Concentration,
    /// The strongest it may be.
    #[schema(example = 7.0)]
    pub high: Concentration,
}

/// Where a fluid stands against its band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Standing {
    /// Weaker than the band.
    Below,
    /// Within the band, its ends included.
    InBand,
    /// Stronger than the band.
    Above,
}

/// A band on the instrument's own scale: °Brix, refractive index, millilitres
/// of titrant or millilitres of split oil, as the reading was.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Marks {
    /// Reads no less than this.
    pub low: Mark,
    /// Aim for this.
    pub target: Mark,
    /// Reads no more than this.
    pub high: Mark,
}

impl Band {
    /// Asks back where a band, the member `band` of a request, is none of a working
    /// sump.
    pub(crate) fn unusual(&self) -> Option<Finding> {
        let marks = [("low", self.low), ("target", self.target), ("high", self.high)];
        marks
            .into_iter()
            .find_map(|(end, at)| practice::unusual_strength(at, &format!("/band/{end}")))
    }

    pub(crate) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.note_faults(&mut faults);
        faults.or_refuse(Kind::Inconsistent)
    }

    /// Notes it where the ends and the target of a band, the member `band` of a
    /// request, are out of order.
    pub(crate) fn note_faults(&self, faults: &mut Faults) {
        if self.low > self.target {
            let detail = "The low end of the band, {}, lies above its target, {}.";
            let detail = Sentence::new(detail).with(self.low.measure());
            faults.add("/band/low", detail.with(self.target.measure()));
        }
        if self.high < self.target {
            let detail = "The high end of the band, {}, lies below its target, {}.";
            let detail = Sentence::new(detail).with(self.high.measure());
            faults.add("/band/high", detail.with(self.target.measure()));
        }
    }

    pub(crate) fn standing(&self, concentration: Concentration) -> Standing {
        // A reading on the very mark is in the band, whatever binary fractions
        // make of it.
        const ROUNDING: f64 = 1e-9;
        let c = concentration.get();
        if c < self.low.get() - ROUNDING {
            Standing::Below
        } else if c > self.high.get() + ROUNDING {
            Standing::Above
        } else {
            Standing::InBand
        }
    }

    pub(crate) fn marks(&self, reading: &Reading) -> Result<Marks, Refusal> {
        Ok(Marks {
            low: reading.mark(self.low, "/band/low")?,
            target: reading.mark(self.target, "/band/target")?,
            high: reading.mark(self.high, "/band/high")?,
        })
    }
}
