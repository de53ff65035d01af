//! Estimates with their uncertainty, and how they hang together.

use crate::quantity::{
    Concentration, Correlation, DailyRate, Ratio, Throughput, Volume, VolumeDifference,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// A daily rate and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct EstimatedDailyRate {
    /// The rate.
    pub value: DailyRate,
    /// Its standard uncertainty.
    pub u: DailyRate,
}

/// An hourly rate and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EstimatedHourlyRate {
    /// The rate.
    pub value: Throughput,
    /// Its standard uncertainty.
    pub u: Throughput,
}

/// A ratio and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EstimatedRatio {
    /// The ratio.
    pub value: Ratio,
    /// Its standard uncertainty.
    pub u: Ratio,
}

/// A volume and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EstimatedVolume {
    /// The volume.
    pub value: Volume,
    /// Its standard uncertainty.
    pub u: Volume,
}

/// A concentration and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EstimatedConcentration {
    /// The concentration.
    pub value: Concentration,
    /// Its standard uncertainty.
    pub u: Concentration,
}

/// What is left over of a volume, and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LeftOver {
    /// What is left over: more than nothing where there is more than the log says.
    pub value: VolumeDifference,
    /// Its standard uncertainty, by that of the two readings.
    pub u: Volume,
}

/// Correlations of the errors of the results, from −1 to 1; absent where one of the
/// two was not estimated or stands at its bound of nothing.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Correlations {
    /// Of evaporation and carry-off.
    pub evaporation_carry_off: Option<Correlation>,
    /// Of evaporation and depletion ratio.
    pub evaporation_depletion_ratio: Option<Correlation>,
    /// Of carry-off and depletion ratio.
    pub carry_off_depletion_ratio: Option<Correlation>,
    /// Of evaporation and volume.
    pub evaporation_volume: Option<Correlation>,
    /// Of carry-off and volume.
    pub carry_off_volume: Option<Correlation>,
    /// Of depletion ratio and volume.
    pub depletion_ratio_volume: Option<Correlation>,
}

/// Standard uncertainties of the readings, from their scatter about the fit.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ReadingScatter {
    /// Of a volume read.
    pub volume: Option<Volume>,
    /// Of a concentration read.
    pub concentration: Option<Concentration>,
}
