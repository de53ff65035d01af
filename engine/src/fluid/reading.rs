//! An instrument's reading and the concentration it stands for, both ways.

use crate::handbook::sucrose;
use crate::quantity::{
    Brix, BrixOffset, Concentration, LabVolume, Mark, Measure, Quantity, RefractiveIndex,
    RefractometerFactor, SampleVolume, Share, Temperature, TitrationFactor,
};
use crate::text::{Assumption, Caution, Kind, Refusal, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// DGUV Regel 109-003 has it that tramp oil biases the reading; that it mostly reads
/// too high is from memory.
const OIL_AND_OPTICS: &str = "Tramp oil was taken not to disturb the reading. It does (DGUV Regel \
                              109-003): emulsified oil mostly reads as concentrate, and a lean sump \
                              under oil then looks right. Where there is oil, read a clear sample \
                              from under it, or titrate.";

/// What an instrument said about the fluid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "method", rename_all = "snake_case")]
pub enum Reading {
    /// By refractometer.
    Refractometer(RefractometerReading),
    /// By refractive index.
    RefractiveIndex(RefractiveIndexReading),
    /// By titration.
    Titration(TitrationReading),
    /// By acid split.
    AcidSplit(AcidSplitReading),
}

/// A hand or digital refractometer's reading: c = factor · (brix − `water_brix`).
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RefractometerReading {
    /// What the scale reads.
    #[schema(example = 4.8)]
    pub brix: Brix,
    /// The fluid's refractometer factor, from its maker or from a calibration:
    /// % by volume of concentrate for each °Brix.
    #[schema(example = 1.25)]
    pub factor: RefractometerFactor,
    /// What the make-up water itself reads at 20 °C, or a calibration's offset,
    /// which can lie a little below 0; 0 when left out.
    pub water_brix: Option<BrixOffset>,
    /// Temperature of the fluid on the prism, 10 to 30 °C (50 to 86 °F). Give it
    /// only when the refractometer does not compensate for temperature itself:
    /// the reading is then corrected to 20 °C.
    pub temperature: Option<Temperature>,
}

/// A refractive index: °Brix by the sucrose scale, then c = factor · °Brix.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RefractiveIndexReading {
    /// The fluid's refractive index at 20 °C and 589 nm, from 1.33299 (water)
    /// to 1.38114 (30 °Brix).
    #[schema(example = 1.3403)]
    pub index: RefractiveIndex,
    /// The fluid's refractometer factor: % by volume of concentrate for each °Brix.
    #[schema(example = 1.25)]
    pub factor: RefractometerFactor,
}

/// A titration of the fluid's alkalinity: c = factor · (titrant − blank).
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TitrationReading {
    /// Titrant used to the end point.
    #[schema(example = 6.2)]
    pub titrant_ml: LabVolume,
    /// Titrant that the make-up water alone uses; 0 when left out.
    pub blank_ml: Option<LabVolume>,
    /// The fluid's titration factor, from its maker or from a calibration.
    #[schema(example = 0.9)]
    pub factor: TitrationFactor,
}

/// An emulsion split by acid in a flask with a graduated neck:
/// c = (split / sample) / `oil_share`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct AcidSplitReading {
    /// Fluid put into the flask.
    #[schema(example = 100.0)]
    pub sample_ml: SampleVolume,
    /// Oil layer that separated.
    #[schema(example = 3.1)]
    pub split_ml: LabVolume,
    /// How much of the concentrate is oil that splits off, from its maker.
    #[schema(example = 62.0)]
    pub oil_share: Share,
}

impl Reading {
    /// The concentration the reading stands for, % by volume. `pointer` is
    /// where in the request the reading lies.
    pub fn concentration(&self, pointer: &str) -> Result<Concentration, Refusal> {
        let c = match self {
            Self::Refractometer(r) => r.factor.get() * (r.brix_at_20(pointer)? - r.water()),
            Self::RefractiveIndex(r) => r.factor.get() * r.brix(pointer)?,
            Self::Titration(r) => r.factor.get() * (r.titrant_ml.get() - r.blank()),
            Self::AcidSplit(r) => {
                100.0 * r.split_ml.get() / (r.sample_ml.get() * r.oil(pointer)?)
            }
        };
        if c < 0.0 {
            let detail = "The reading is lower than what the water alone gives. Check the reading, \
                          and that the instrument was set to zero on clean water.";
            return Err(Refusal::new(Kind::Inconsistent, pointer, Sentence::new(detail)));
        }
        if c > 100.0 {
            let detail = "The reading and its factor stand for {}, more than neat concentrate. \
                          Check both.";
            let detail = Sentence::new(detail).with(Measure::of(Concentration::ROW, c));
            return Err(Refusal::new(Kind::Inconsistent, pointer, detail));
        }
        Ok(Concentration::of(c)?)
    }

    /// Where on the instrument's own scale a concentration would read; the
    /// refusal points at `pointer`.
    pub fn mark(&self, concentration: Concentration, pointer: &str) -> Result<Mark, Refusal> {
        let c = concentration.get();
        let mark = match self {
            Self::Refractometer(r) => {
                let brix = c / r.factor.get() + r.water();
                let Some(temperature) = r.temperature else {
                    within(brix, Brix::ROW.most, pointer)?;
                    // No scale is marked below nothing.
                    return Ok(Mark::of(brix.max(0.0))?);
                };
                let reading = sucrose::reading_at(brix, temperature.get());
                within(reading, sucrose::CORRECTION_BRIX_MOST, pointer)?;
                // Water itself reads a little off zero away from 20 °C.
                reading.max(0.0)
            }
            Self::RefractiveIndex(r) => {
                let brix = c / r.factor.get();
                within(brix, sucrose::INDEX_BRIX_MOST, pointer)?;
                sucrose::index_from_brix(brix)
            }
            Self::Titration(r) => c / r.factor.get() + r.blank(),
            Self::AcidSplit(r) => c / 100.0 * r.sample_ml.get() * r.oil_share.get() / 100.0,
        };
        Ok(Mark::of(mark)?)
    }

    /// What reading an instrument this way takes for granted.
    #[must_use]
    pub fn assumptions(&self, pointer: &str) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let mut note = |member: &str, text: &'static str| {
            assumptions.push(Assumption::new(format!("{pointer}/{member}"), text));
        };
        match self {
            Self::Refractometer(r) => {
                note("brix", OIL_AND_OPTICS);
                if r.water_brix.is_none() {
                    note("water_brix", "The make-up water was taken to read 0 °Brix.");
                }
                match r.temperature {
                    None => note(
                        "temperature",
                        "The reading was taken to be compensated for temperature.",
                    ),
                    Some(_) => note(
                        "temperature",
                        "The reading was corrected by the international table of 1936 for sucrose; \
                         a cutting fluid is not sucrose, so the correction is an approximation.",
                    ),
                }
            }
            Self::RefractiveIndex(_) => {
                note("index", OIL_AND_OPTICS);
                let text = Sentence::new(
                    "°Brix was taken from the scale for sucrose at {} and 589 nm, and water to \
                     read 0 on it.",
                );
                let text = text.with(Temperature::measure_of(20.0));
                assumptions.push(Assumption::new(format!("{pointer}/index"), text));
            }
            Self::Titration(r) if r.blank_ml.is_none() => {
                note("blank_ml", "The make-up water was taken to use no titrant.");
            }
            Self::Titration(_) => {}
            Self::AcidSplit(_) => note(
                "split_ml",
                "No tramp oil was taken to be in the layer that split off. Whatever there is adds \
                 to it and lets lean fluid look strong: draw the sample from under the oil, or \
                 titrate.",
            ),
        }
        assumptions
    }

    /// What to beware of in taking such a reading.
    #[must_use]
    pub fn cautions(&self) -> Vec<Caution> {
        match self {
            Self::AcidSplit(_) => vec![Caution::SKIN_AND_MIST, Caution::ACID],
            Self::Titration(_) => vec![Caution::SKIN_AND_MIST, Caution::TITRANT],
            Self::Refractometer(_) | Self::RefractiveIndex(_) => vec![Caution::SKIN_AND_MIST],
        }
    }
}

impl RefractometerReading {
    fn water(&self) -> f64 {
        self.water_brix.map_or(0.0, Quantity::get)
    }

    fn brix_at_20(&self, pointer: &str) -> Result<f64, Refusal> {
        let brix = self.brix.get();
        let Some(temperature) = self.temperature else {
            return Ok(brix);
        };
        let (coldest, warmest) = sucrose::CORRECTION_CELSIUS;
        if !(coldest..=warmest).contains(&temperature.get()) {
            let detail = "The table of temperature corrections covers {} to {}, and {} lies \
                          outside it. Let the sample come to room temperature.";
            let detail = Sentence::new(detail)
                .with(Measure::of(Temperature::ROW, coldest))
                .with(Measure::of(Temperature::ROW, warmest))
                .with(temperature.measure());
            let pointer = format!("{pointer}/temperature");
            return Err(Refusal::new(Kind::OutOfRange, pointer, detail));
        }
        within(brix, sucrose::CORRECTION_BRIX_MOST, &format!("{pointer}/brix"))?;
        Ok(brix + sucrose::temperature_correction(brix, temperature.get()))
    }
}

impl RefractiveIndexReading {
    fn brix(&self, pointer: &str) -> Result<f64, Refusal> {
        let index = self.index.get();
        let water = sucrose::index_from_brix(0.0);
        let strongest = sucrose::index_from_brix(sucrose::INDEX_BRIX_MOST);
        if (water..=strongest).contains(&index) {
            return Ok(sucrose::brix_from_index(index));
        }
        let detail = "A refractive index from {} (water) to {} (30 °Brix) can be turned into \
                      °Brix, and {} lies outside that. Check that it was read at {}.";
        let detail = Sentence::new(detail)
            .with(Measure::of(RefractiveIndex::ROW, water))
            .with(Measure::of(RefractiveIndex::ROW, strongest))
            .with(self.index.measure())
            .with(Temperature::measure_of(20.0));
        Err(Refusal::new(Kind::OutOfRange, format!("{pointer}/index"), detail))
    }
}

impl TitrationReading {
    fn blank(&self) -> f64 {
        self.blank_ml.map_or(0.0, Quantity::get)
    }
}

impl AcidSplitReading {
    /// The share of the concentrate that splits off, from 0 to 1 and not 0.
    fn oil(&self, pointer: &str) -> Result<f64, Refusal> {
        if self.split_ml.get() > self.sample_ml.get() {
            let detail = "More oil split off ({}) than there was sample ({}).";
            let detail =
                Sentence::new(detail).with(self.split_ml.measure()).with(self.sample_ml.measure());
            return Err(Refusal::new(Kind::Inconsistent, format!("{pointer}/split_ml"), detail));
        }
        if self.oil_share.get() > 0.0 {
            return Ok(self.oil_share.get() / 100.0);
        }
        let detail = "A concentrate without oil does not split, so its concentration cannot be \
                      told this way. Use the refractometer or titration.";
        let pointer = format!("{pointer}/oil_share");
        Err(Refusal::new(Kind::NotIdentifiable, pointer, Sentence::new(detail)))
    }
}

fn within(brix: f64, most: f64, pointer: &str) -> Result<(), Refusal> {
    if brix <= most {
        return Ok(());
    }
    let detail = "This stands for {}, and the scale or table in use ends at {}.";
    let detail =
        Sentence::new(detail).with(Measure::of(Brix::ROW, brix)).with(Measure::of(Brix::ROW, most));
    Err(Refusal::new(Kind::OutOfRange, pointer, detail))
}
