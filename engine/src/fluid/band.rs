//! The band that a fluid is kept in, and where a fluid stands against it.

use crate::fluid::practice;
use crate::fluid::reading::Reading;
use crate::quantity::{Concentration, Mark, Quantity};
use crate::sentence;
use crate::text::{Faults, Finding, Kind, Refusal};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// The range of strength that a fluid is kept in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = StrengthBand)]
pub struct Band {
    /// # Weakest allowed
    ///
    /// The weakest that the fluid may be.
    #[schema(example = 5.5)]
    pub low: Concentration,
    /// # Aim for
    ///
    /// The strength to aim for.
    #[schema(example = 6.25)]
    pub target: Concentration,
    /// # Strongest allowed
    ///
    /// The strongest that the fluid may be.
    #[schema(example = 7.0)]
    pub high: Concentration,
}

/// Where the strength of a fluid lies against its band.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
#[schema(as = BandStanding)]
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
#[schema(as = BandMarks)]
pub struct Marks {
    /// # Lowest mark
    ///
    /// The lowest reading that is in the band.
    pub low: Mark,
    /// # Mark to aim for
    ///
    /// The reading to aim for.
    pub target: Mark,
    /// # Highest mark
    ///
    /// The highest reading that is in the band.
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
            let detail = sentence!(
                "The low end of the band, {}, lies above its target, {}.",
                self.low,
                self.target
            );
            faults.add("/band/low", detail);
        }
        if self.high < self.target {
            let detail = sentence!(
                "The high end of the band, {}, lies below its target, {}.",
                self.high,
                self.target
            );
            faults.add("/band/high", detail);
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
