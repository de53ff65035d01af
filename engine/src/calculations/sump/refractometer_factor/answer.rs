//! What a calibration answers with.

use super::{CalibrationLine, ForConcentration};
use crate::quantity::{
    BrixDifference, BrixOffset, Concentration, CorrelationCoefficient, Count, Ratio,
    RefractometerFactor, TestValue,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The factor, the water's reading, and how good both are.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RefractometerFactorAnswer {
    /// # Line
    ///
    /// The line that was fitted to the samples.
    pub line: CalibrationLine,
    /// # Refractometer factor
    ///
    /// The refractometer factor: % by volume of concentrate for each °Brix.
    pub factor: RefractometerFactor,
    /// # Factor is sure to
    ///
    /// Standard uncertainty of the factor, from the scatter and from the divisions of the
    /// scale. Absent, like all that follows from the scatter, when no sample is left over.
    pub factor_u: Option<Ratio>,
    /// # Water alone reads
    ///
    /// Reading of the water alone; 0 for a line through the origin.
    pub water_brix: BrixOffset,
    /// # Water is sure to
    ///
    /// Standard uncertainty of the water's reading; absent for a line through the origin.
    pub water_brix_u: Option<BrixDifference>,
    /// # Correlation
    ///
    /// Correlation of the errors of the factor and of the water's reading; absent for a
    /// line through the origin.
    pub correlation: Option<CorrelationCoefficient>,
    /// # Scatter
    ///
    /// Standard deviation of the samples' readings about the line, without what the
    /// divisions of the scale may hide.
    pub scatter: Option<BrixDifference>,
    /// # Degrees of freedom
    ///
    /// Degrees of freedom: samples minus unknowns of the line.
    pub degrees_of_freedom: Count,
    /// # Test of the offset
    ///
    /// Whether the offset is real; absent with fewer than three different strengths.
    pub offset_test: Option<OffsetTest>,
    /// # Mixes against the line
    ///
    /// Each sample against the line, in the order of the request.
    pub samples: Vec<CalibrationSampleFit>,
    /// # Readings looked up
    ///
    /// The strength that each of the readings asked about stands for, in their order.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub readings: Vec<StandsFor>,
    /// # From reading to strength
    ///
    /// The strength that future readings stand for, with its range, from the weakest to
    /// the strongest sample.
    pub band: Vec<StandsFor>,
    /// # For concentration
    ///
    /// Members to paste into a request for `concentration`.
    pub paste: ForConcentration,
}

/// The F-test of a line with an offset against one through the origin.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[schema(as = OffsetTestResult)]
pub struct OffsetTest {
    /// # F
    ///
    /// The value of F.
    pub f: TestValue,
    /// # Probability
    ///
    /// Probability of an F as large where there is no offset, from 0 to 1.
    pub p: Ratio,
    /// # Offset is real
    ///
    /// Whether the offset is real, at 5 %.
    pub is_real: bool,
}

/// A sample against the line.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalibrationSampleFit {
    /// # Off the line by
    ///
    /// Reading minus the line.
    pub residual: BrixDifference,
    /// # In standard deviations
    ///
    /// The same in standard deviations, by the other samples and the divisions of the
    /// scale.
    pub studentised: Option<TestValue>,
    /// # Outside
    ///
    /// Whether it lies outside what a line allows.
    pub outside: bool,
}

/// What a reading stands for.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StandsFor {
    /// # Refractometer reads
    ///
    /// The reading.
    pub brix: BrixOffset,
    /// # Strength
    ///
    /// The strength that it stands for.
    pub concentration: Concentration,
    /// # At least
    ///
    /// The weakest that it may stand for, at 95 %; absent where the samples scatter too
    /// much to bound it.
    pub low: Option<Concentration>,
    /// # At most
    ///
    /// The strongest that it may stand for, at 95 %.
    pub high: Option<Concentration>,
}
