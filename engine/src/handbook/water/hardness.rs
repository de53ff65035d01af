//! Hardness in the units that are in use, as calcium carbonate.
//!
//! From their definitions, with the molar masses of CaCO₃ and CaO (100.0869 and 56.0774 g/mol) and
//! the exact units of NIST SP 811: a German degree is 10 mg of CaO in a litre, a French one 10 mg
//! of CaCO₃, an English one a grain of CaCO₃ in an imperial gallon, and a grain per US gallon that.
//! Some published converters swap the German degree and the grain per US gallon.

/// Molar mass of CaCO₃, g/mol.
const CALCIUM_CARBONATE: f64 = 100.0869;
/// Molar mass of CaO, g/mol.
const CALCIUM_OXIDE: f64 = 56.0774;
/// Molar mass of calcium, g/mol.
const CALCIUM: f64 = 40.078;
/// Molar mass of magnesium, g/mol.
const MAGNESIUM: f64 = 24.305;
/// Milligrams in a grain (NIST SP 811, exact).
const GRAIN: f64 = 64.79891;
/// Litres in an imperial gallon (NIST SP 811, exact).
const IMPERIAL_GALLON: f64 = 4.54609;
/// Litres in a US gallon (NIST SP 811, exact).
const US_GALLON: f64 = 3.785411784;

/// mg/L of CaCO₃ in a millimole of hardness in a litre.
pub const MILLIMOLE: f64 = CALCIUM_CARBONATE;
/// mg/L of CaCO₃ in a German degree, °dH.
pub const GERMAN_DEGREE: f64 = 10.0 * CALCIUM_CARBONATE / CALCIUM_OXIDE;
/// mg/L of CaCO₃ in a French degree, °fH.
pub const FRENCH_DEGREE: f64 = 10.0;
/// mg/L of CaCO₃ in an English degree, °e or Clark.
pub const ENGLISH_DEGREE: f64 = GRAIN / IMPERIAL_GALLON;
/// mg/L of CaCO₃ in a grain per US gallon.
pub const GRAIN_PER_US_GALLON: f64 = GRAIN / US_GALLON;
/// mg/L of CaCO₃ in a mg/L of calcium.
pub const OF_CALCIUM: f64 = CALCIUM_CARBONATE / CALCIUM;
/// mg/L of CaCO₃ in a mg/L of magnesium.
pub const OF_MAGNESIUM: f64 = CALCIUM_CARBONATE / MAGNESIUM;

/// Up to here water is soft, then moderately hard, then hard, then very hard, mg/L as CaCO₃
/// (USGS, as restated by the WQA).
pub const CLASSES: [f64; 3] = [60.0, 120.0, 180.0];

#[cfg(test)]
mod tests {
    use super::*;

    /// Recomputed from the definitions, to the digits that are usually printed.
    #[test]
    fn units_are_those_of_their_definitions() {
        for (is, printed) in [
            (MILLIMOLE, 100.0869),
            (GERMAN_DEGREE, 17.847_992),
            (FRENCH_DEGREE, 10.0),
            (ENGLISH_DEGREE, 14.253_768),
            (GRAIN_PER_US_GALLON, 17.118_061),
            (OF_CALCIUM, 2.497_303),
            (OF_MAGNESIUM, 4.117_955),
        ] {
            assert!((is - printed).abs() < 5e-7, "{is} {printed}");
        }
    }
}
