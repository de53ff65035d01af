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
    /// The line that was laid through the samples.
    pub line: CalibrationLine,
    /// The refractometer factor.
    pub factor: RefractometerFactor,
    /// Its standard uncertainty, % by volume per °Brix: from the scatter and from the
    /// divisions of the scale. Absent, like all that follows from the scatter, when no
    /// sample is left over to tell it by.
    pub factor_u: Option<Ratio>,
    /// What the water itself reads; 0 for a line through the origin.
    pub water_brix: BrixOffset,
    /// Its standard uncertainty; absent for a line through the origin.
    pub water_brix_u: Option<BrixDifference>,
    /// How much the errors of the factor and of the water's reading go together;
    /// absent for a line through the origin.
    pub correlation: Option<CorrelationCoefficient>,
    /// How far the samples' readings scatter about the line (standard deviation),
    /// what the divisions of the scale may hide not included.
    pub scatter: Option<BrixDifference>,
    /// Samples less what the line has to be told.
    pub degrees_of_freedom: Count,
    /// Whether the offset is real; absent with fewer than three different
    /// strengths.
    pub offset_test: Option<OffsetTest>,
    /// Each sample against the line, in the order of the request.
    pub samples: Vec<CalibrationSampleFit>,
    /// What each of the readings asked about stands for, in their order.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub readings: Vec<StandsFor>,
    /// The band within which a future reading stands for its concentration, from the
    /// weakest to the strongest sample.
    pub band: Vec<StandsFor>,
    /// What to paste into a request for `concentration`.
    pub paste: ForConcentration,
}

/// The F-test of a line with an offset against one through the origin.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct OffsetTest {
    /// The value of F.
    pub f: TestValue,
    /// How likely so large an F is where there is no offset, from 0 to 1.
    pub p: Ratio,
    /// Whether the offset is real, at 5 %.
    pub is_real: bool,
}

/// A sample against the line.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CalibrationSampleFit {
    /// What it reads above the line.
    pub residual: BrixDifference,
    /// The same in standard deviations that the other samples and the divisions of the
    /// scale tell.
    pub studentised: Option<TestValue>,
    /// Whether it lies outside what a line allows.
    pub outside: bool,
}

/// What a reading stands for.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct StandsFor {
    /// The reading.
    pub brix: BrixOffset,
    /// The concentration it stands for.
    pub concentration: Concentration,
    /// The weakest it may stand for at 95 %; absent where the samples scatter too
    /// much to bound it.
    pub low: Option<Concentration>,
    /// The strongest it may stand for at 95 %.
    pub high: Option<Concentration>,
}
