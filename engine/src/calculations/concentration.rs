//! A reading into % by volume, and a band of % into marks on the instrument.
//!
//! *The refractometer says 4.8. How strong is the fluid, is that in its band,
//! and between which marks must I keep it?*
//!
//! With c the concentration in % by volume:
//!
//! 1. refractometer: c = f·(b − w), with f the factor (%/°Brix), b the reading
//!    at 20 °C and w what the water reads (°Brix)
//! 2. refractive index: c = f·B(n), with B the sucrose scale (°Brix) of the
//!    index n at 20 °C
//! 3. titration: c = f·(t − t₀), with f (%/mL), t the titrant and t₀ the blank (mL)
//! 4. acid split: c = 100·s/(v·o), with s the layer and v the sample (mL), o the
//!    share of the concentrate that splits off (0 to 1)
//! 5. parts of water to one of concentrate: (100 − c)/c
//!
//! Each is read backwards for the marks of a band.
//!
//! Assumes that the factor holds over the whole band, and that tramp oil does
//! not disturb the reading (it does, and the answer says so: DGUV Regel 109-003). Valid to 30 °Brix by
//! refractive index and, with a temperature, to 20 °Brix at 10 to 30 °C.
//! Sources: the sucrose scale and the temperature table of
//! [`handbook::sucrose`](crate::handbook::sucrose); the factor methods are common
//! practice, no source.

use crate::calculation::{Calculation, Finding, Outcome};
use crate::fluid::parts_of_water;
use crate::practice;
use crate::quantity::{Concentration, Mark, Quantity, Ratio};
use crate::reading::Reading;
use crate::refusal::{Faults, Kind, Refusal};
use crate::sentence::Sentence;
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A reading, and the band the fluid is to be kept in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct InBand {
    /// What the instrument said.
    pub reading: Reading,
    /// The band the fluid is to be kept in.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub band: Option<Band>,
}

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

/// How strong the fluid is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ConcentrationAnswer {
    /// Concentrate in the fluid.
    pub concentration: Concentration,
    /// Parts of water to one part of concentrate; absent where it is plain water.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    #[schema(example = 15.67)]
    pub parts_of_water: Option<Ratio>,
    /// Where the fluid stands against its band, when one was given.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub standing: Option<Standing>,
    /// The band on the instrument's own scale, when one was given.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub marks: Option<Marks>,
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

impl Calculation for InBand {
    const NAME: &'static str = "concentration";
    const SUMMARY: &'static str = "What a reading stands for in % by volume, where it stands in \
                                   its band, and the band's marks on the instrument";
    const EXAMPLE: &'static str = include_str!("../../../examples/concentration.json");
    const IS_QUICK: bool = true;
    type Answer = ConcentrationAnswer;

    fn calculate(&self) -> Result<Outcome<ConcentrationAnswer>, Refusal> {
        self.band.as_ref().map_or(Ok(()), Band::check)?;
        let concentration = self.reading.concentration("/reading")?;
        let marks = self.band.as_ref().map(|band| band.marks(&self.reading)).transpose()?;
        let answer = ConcentrationAnswer {
            concentration,
            parts_of_water: parts_of_water(concentration.get()),
            standing: self.band.as_ref().map(|band| band.standing(concentration)),
            marks,
        };
        Ok(Outcome {
            findings: self.findings(concentration),
            answer,
            balance: None,
            assumptions: self.reading.assumptions("/reading"),
            cautions: self.reading.cautions(),
        })
    }
}

impl InBand {
    fn findings(&self, concentration: Concentration) -> Vec<Finding> {
        let read = practice::unusual_strength(concentration, "/reading");
        read.into_iter().chain(self.band.as_ref().and_then(Band::unusual)).collect()
    }
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

    fn check(&self) -> Result<(), Refusal> {
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

    fn marks(&self, reading: &Reading) -> Result<Marks, Refusal> {
        Ok(Marks {
            low: reading.mark(self.low, "/band/low")?,
            target: reading.mark(self.target, "/band/target")?,
            high: reading.mark(self.high, "/band/high")?,
        })
    }
}
