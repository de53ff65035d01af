//! The question: mixes of known strength, and what each reads.

use crate::quantity::{Brix, Concentration, Count, Quantity, ScaleDivision};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The division of a scale where the request has none, °Brix. Common practice, no source: hand
/// refractometers have lines at 0.1 or 0.2, digital ones steps of 0.1.
pub(super) const USUAL_DIVISION: f64 = 0.1;
/// Mixes made up on purpose, and what each reads.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct RefractometerCalibration {
    /// # Mixes
    ///
    /// Mixes made up on purpose, at least two; one of them may be the plain water.
    pub samples: Vec<CalibrationSample>,
    /// # Line
    ///
    /// Whether the line goes through the origin or has an offset, which is what the water
    /// reads. Default: an offset from three different strengths on.
    pub line: Option<CalibrationLine>,
    /// # Scale division
    ///
    /// Step from one line of the refractometer's scale to the next, or of its display. No
    /// reading is surer than that allows. Default: 0.1.
    #[schema(example = 0.2)]
    pub division: Option<ScaleDivision>,
    /// # Readings to look up
    ///
    /// Readings to turn into a strength. Default: none.
    pub readings: Option<Vec<Brix>>,
    /// # Readings averaged
    ///
    /// Number of readings of the same fluid that are averaged before the factor is used.
    /// Default: 1.
    pub repeats: Option<Count>,
}

/// A mix made up on purpose, and what it reads.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CalibrationSample {
    /// # Made up to
    ///
    /// Strength that it was made up to.
    #[schema(example = 4.0)]
    pub concentration: Concentration,
    /// # Refractometer reads
    ///
    /// Reading of the refractometer.
    #[schema(example = 3.4)]
    pub brix: Brix,
}

/// The kind of line that is fitted to the samples.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum CalibrationLine {
    /// Plain water reads 0.
    ThroughOrigin,
    /// Plain water reads whatever the samples say.
    WithOffset,
}

impl RefractometerCalibration {
    pub(super) fn line(&self) -> CalibrationLine {
        let usual = if self.strengths() < 3 {
            CalibrationLine::ThroughOrigin
        } else {
            CalibrationLine::WithOffset
        };
        self.line.unwrap_or(usual)
    }

    /// How many different strengths the samples have.
    fn strengths(&self) -> usize {
        let mut strengths: Vec<f64> = self.samples.iter().map(|s| s.concentration.get()).collect();
        strengths.sort_by(f64::total_cmp);
        strengths.dedup();
        strengths.len()
    }

    pub(super) fn division(&self) -> f64 {
        self.division.map_or(USUAL_DIVISION, Quantity::get)
    }

    pub(super) fn repeats(&self) -> f64 {
        self.repeats.map_or(1.0, Quantity::get)
    }
}
