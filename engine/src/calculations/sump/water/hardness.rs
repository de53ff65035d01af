//! Hardness between its units, equation 1.

use super::answer::{HardnessClass, HardnessInUnits};
use super::question::WaterSource;
use crate::fluid::hardness::{HardnessMeasured, HardnessUnit};
use crate::handbook::water::hardness::{CLASSES, OF_CALCIUM, OF_MAGNESIUM};
use crate::quantity::{Content, Number, OutOfRange, Quantity};

impl WaterSource {
    /// The hardness of calcium and magnesium, mg/L as CaCO₃, where both are known.
    pub(super) fn of_ions(&self) -> Option<f64> {
        let (calcium, magnesium) = self.calcium.zip(self.magnesium)?;
        Some(calcium.get() * OF_CALCIUM + magnesium.get() * OF_MAGNESIUM)
    }

    /// Its hardness, mg/L as CaCO₃.
    pub(super) fn mg_per_litre(&self) -> Option<f64> {
        self.hardness.map(HardnessMeasured::mg_per_litre).or_else(|| self.of_ions())
    }
}

/// A hardness of so many mg/L as CaCO₃ in every unit.
pub(super) fn in_units(mg_per_litre: f64) -> Result<HardnessInUnits, OutOfRange> {
    let of = |unit: HardnessUnit| Number::of(mg_per_litre / unit.mg_per_litre());
    Ok(HardnessInUnits {
        mg_per_litre: Content::of(mg_per_litre)?,
        german_degrees: of(HardnessUnit::GermanDegrees)?,
        french_degrees: of(HardnessUnit::FrenchDegrees)?,
        english_degrees: of(HardnessUnit::EnglishDegrees)?,
        grains_per_us_gallon: of(HardnessUnit::GrainsPerUsGallon)?,
        millimoles_per_litre: of(HardnessUnit::MillimolesPerLitre)?,
    })
}

/// The class of a hardness of so many mg/L as CaCO₃.
pub(super) fn class(mg_per_litre: f64) -> HardnessClass {
    let [soft, moderate, hard] = CLASSES;
    match mg_per_litre {
        is if is <= soft => HardnessClass::Soft,
        is if is <= moderate => HardnessClass::ModeratelyHard,
        is if is <= hard => HardnessClass::Hard,
        _ => HardnessClass::VeryHard,
    }
}

impl HardnessClass {
    pub(super) const fn words(self) -> &'static str {
        match self {
            Self::Soft => "soft",
            Self::ModeratelyHard => "moderately hard",
            Self::Hard => "hard",
            Self::VeryHard => "very hard",
        }
    }
}
