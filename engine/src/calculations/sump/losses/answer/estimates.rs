//! Estimates with their uncertainty, and their correlations.

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
    /// # Rate
    ///
    /// The rate.
    pub value: DailyRate,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: DailyRate,
}

/// An hourly rate and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EstimatedHourlyRate {
    /// # Rate
    ///
    /// The rate.
    pub value: Throughput,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: Throughput,
}

/// A ratio and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EstimatedRatio {
    /// # Ratio
    ///
    /// The ratio.
    pub value: Ratio,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: Ratio,
}

/// A volume and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EstimatedVolume {
    /// # Volume
    ///
    /// The volume.
    pub value: Volume,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: Volume,
}

/// A concentration and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct EstimatedConcentration {
    /// # Concentration
    ///
    /// The concentration.
    pub value: Concentration,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty.
    pub u: Concentration,
}

/// Volume left over, and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LeftOver {
    /// # Left over
    ///
    /// Amount left over: above 0 where there is more than the log says.
    pub value: VolumeDifference,
    /// # Standard uncertainty
    ///
    /// Its standard uncertainty, by that of the two readings.
    pub u: Volume,
}

/// Correlations between the errors of the results, from −1 to 1; absent where one of the
/// two was not estimated or stands at its bound of 0.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LossCorrelations {
    /// # Evaporation and carry-off
    ///
    /// Of evaporation and carry-off.
    pub evaporation_carry_off: Option<Correlation>,
    /// # Evaporation and depletion ratio
    ///
    /// Of evaporation and depletion ratio.
    pub evaporation_depletion_ratio: Option<Correlation>,
    /// # Carry-off and depletion ratio
    ///
    /// Of carry-off and depletion ratio.
    pub carry_off_depletion_ratio: Option<Correlation>,
    /// # Evaporation and volume
    ///
    /// Of evaporation and volume.
    pub evaporation_volume: Option<Correlation>,
    /// # Carry-off and volume
    ///
    /// Of carry-off and volume.
    pub carry_off_volume: Option<Correlation>,
    /// # Depletion ratio and volume
    ///
    /// Of depletion ratio and volume.
    pub depletion_ratio_volume: Option<Correlation>,
}

/// Standard uncertainties of the readings, from their scatter about the fit.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ReadingScatter {
    /// # Volume
    ///
    /// Standard uncertainty of a volume reading.
    pub volume: Option<Volume>,
    /// # Concentration
    ///
    /// Standard uncertainty of a concentration.
    pub concentration: Option<Concentration>,
}
