//! An instrument's reading and the concentration it stands for, both ways.

use crate::handbook::sucrose;
use crate::quantity::{
    Brix, BrixOffset, Concentration, LabVolume, Mark, Measure, Quantity, RefractiveIndex,
    RefractometerFactor, SampleVolume, Share, Temperature, TitrationFactor,
};
use crate::sentence;
use crate::text::{Assumption, Caution, Kind, Refusal, Sentence};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A reading of the fluid's strength, by one of four methods.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "method", rename_all = "snake_case")]
#[schema(as = StrengthReading)]
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
    /// # Refractometer reads
    ///
    /// Reading of the refractometer.
    #[schema(example = 4.8)]
    pub brix: Brix,
    /// # Refractometer factor
    ///
    /// % by volume of concentrate for each °Brix, from the fluid's maker or a calibration.
    #[schema(example = 1.25)]
    pub factor: RefractometerFactor,
    /// # Water alone reads
    ///
    /// Reading of the make-up water alone at room temperature, or the offset of a
    /// calibration, which can lie a little below 0. Default: 0.
    pub water_brix: Option<BrixOffset>,
    /// # Temperature on the prism
    ///
    /// Temperature of the fluid on the prism, 10 to 30 °C (50 to 86 °F). Give it
    /// only when the refractometer does not compensate for temperature itself:
    /// the reading is then corrected to 20 °C (68 °F).
    pub temperature: Option<Temperature>,
}

/// A refractive index: °Brix by the sucrose scale, then c = factor · °Brix.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RefractiveIndexReading {
    /// # Refractive index
    ///
    /// Refractive index of the fluid at 20 °C (68 °F) and 589 nm, from 1.33299 (water)
    /// to 1.38114 (30 °Brix).
    #[schema(example = 1.3403)]
    pub index: RefractiveIndex,
    /// # Refractometer factor
    ///
    /// Refractometer factor of the fluid: % by volume of concentrate for each °Brix.
    #[schema(example = 1.25)]
    pub factor: RefractometerFactor,
}

/// A titration of the fluid's alkalinity: c = factor · (titrant − blank).
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct TitrationReading {
    /// # Titrant used
    ///
    /// Titrant used to the end point.
    #[schema(example = 6.2)]
    pub titrant_ml: LabVolume,
    /// # Water alone uses
    ///
    /// Titrant that the make-up water alone uses. Default: 0.
    pub blank_ml: Option<LabVolume>,
    /// # Titration factor
    ///
    /// Titration factor of the fluid, from its maker or from a calibration.
    #[schema(example = 0.9)]
    pub factor: TitrationFactor,
}

/// An emulsion split by acid in a flask with a graduated neck:
/// c = (split / sample) / `oil_share`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct AcidSplitReading {
    /// # Sample
    ///
    /// Fluid put into the flask.
    #[schema(example = 100.0)]
    pub sample_ml: SampleVolume,
    /// # Oil split off
    ///
    /// Oil layer that separated.
    #[schema(example = 3.1)]
    pub split_ml: LabVolume,
    /// # Oil in the concentrate
    ///
    /// Share of the concentrate that splits off as oil, from its maker.
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
            let detail = sentence!(
                "The reading is lower than what the water alone gives. Check the reading, and that \
                 the instrument was set to zero on clean water."
            );
            return Err(Refusal::new(Kind::Inconsistent, pointer, detail));
        }
        if c > 100.0 {
            let detail = sentence!(
                "The reading and its factor stand for {}, more than neat concentrate. Check both.",
                Concentration::measure_of(c)
            );
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
        let mut note = |member: &str, text: Sentence| {
            assumptions.push(Assumption::new(format!("{pointer}/{member}"), text));
        };
        match self {
            Self::Refractometer(r) => {
                note("brix", oil_and_optics());
                if r.water_brix.is_none() {
                    let zero = Brix::measure_of(0.0);
                    note(
                        "water_brix",
                        sentence!("The make-up water was assumed to read {}.", zero),
                    );
                }
                let text = match r.temperature {
                    None => sentence!("The reading was assumed to be compensated for temperature."),
                    Some(_) => sentence!(
                        "The reading was corrected by the international table of 1936 for sucrose; \
                         a cutting fluid is not sucrose, so the correction is an approximation."
                    ),
                };
                note("temperature", text);
            }
            Self::RefractiveIndex(_) => {
                note("index", oil_and_optics());
                let text = sentence!(
                    "°Brix was read off the scale for sucrose at {} and 589 nm, on which water was \
                     assumed to read 0.",
                    Temperature::measure_of(20.0)
                );
                note("index", text);
            }
            Self::Titration(r) if r.blank_ml.is_none() => {
                note("blank_ml", sentence!("The make-up water was assumed to use no titrant."));
            }
            Self::Titration(_) => {}
            Self::AcidSplit(_) => {
                let text = sentence!(
                    "The layer that split off was assumed to hold no tramp oil. Any tramp oil adds \
                     to it and makes lean fluid look strong: draw the sample from under the oil, \
                     or titrate."
                );
                note("split_ml", text);
            }
        }
        assumptions
    }

    /// What the instrument must show, in a clause: "the refractometer must then read
    /// 6.4 °Brix".
    #[must_use]
    pub fn must_then_read(&self, mark: Mark) -> Sentence {
        let shown = self.shown(mark);
        match self {
            Self::Refractometer(_) => {
                sentence!("the refractometer must then read {}", shown)
            }
            Self::RefractiveIndex(_) => {
                sentence!("the refractive index must then be {}", shown)
            }
            Self::Titration(_) => sentence!("a titration must then use {}", shown),
            Self::AcidSplit(_) => sentence!("an acid split must then give {}", shown),
        }
    }

    /// A mark on the instrument's own scale, no finer than the scale is read.
    #[must_use]
    pub fn shown(&self, mark: Mark) -> Measure {
        let mark = mark.get();
        match self {
            // To a tenth, as a hand refractometer is read, and small ones to two digits.
            Self::Refractometer(_) => {
                Measure::of(Brix::ROW, mark).rounded(if mark < 10.0 { 2 } else { 3 })
            }
            Self::RefractiveIndex(_) => Measure::of(RefractiveIndex::ROW, mark).rounded(5),
            Self::Titration(_) | Self::AcidSplit(_) => Measure::of(LabVolume::ROW, mark).rounded(3),
        }
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
            let detail = sentence!(
                "The table of temperature corrections covers {} to {}, and {} lies outside it. Let \
                 the sample come to room temperature.",
                Temperature::measure_of(coldest),
                Temperature::measure_of(warmest),
                temperature
            );
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
        let detail = sentence!(
            "A refractive index from {} (water) to {} ({}) can be turned into °Brix, and {} lies \
             outside that. Check that it was read at {}.",
            RefractiveIndex::measure_of(water),
            RefractiveIndex::measure_of(strongest),
            Brix::measure_of(sucrose::INDEX_BRIX_MOST),
            self.index,
            Temperature::measure_of(20.0)
        );
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
            let detail = sentence!(
                "More oil split off ({}) than there was sample ({}). Check both.",
                self.split_ml,
                self.sample_ml
            );
            return Err(Refusal::new(Kind::Inconsistent, format!("{pointer}/split_ml"), detail));
        }
        if self.oil_share.get() > 0.0 {
            return Ok(self.oil_share.fraction());
        }
        let detail = sentence!(
            "A concentrate without oil does not split, so its strength cannot be measured this \
             way. Use the refractometer or titration."
        );
        Err(Refusal::new(Kind::NotIdentifiable, format!("{pointer}/oil_share"), detail))
    }
}

/// DGUV Regel 109-003 has it that tramp oil biases the reading; that it mostly reads
/// too high is from memory.
fn oil_and_optics() -> Sentence {
    sentence!(
        "Tramp oil was assumed not to disturb the reading. It does (DGUV Regel 109-003): \
         emulsified oil mostly reads as concentrate, and a lean sump under oil then looks right. \
         Where there is oil, read a clear sample from under it, or titrate."
    )
}

fn within(brix: f64, most: f64, pointer: &str) -> Result<(), Refusal> {
    if brix <= most {
        return Ok(());
    }
    let detail = sentence!(
        "This stands for {}, and the scale or table in use ends at {}.",
        Brix::measure_of(brix),
        Brix::measure_of(most)
    );
    Err(Refusal::new(Kind::OutOfRange, pointer, detail))
}
