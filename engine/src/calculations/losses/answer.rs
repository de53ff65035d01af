//! What the log of a sump is answered with.

use crate::quantity::{
    Concentration, Correlation, DailyRate, Days, Hours, Ratio, Throughput, Volume, VolumeDifference,
};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// What a sump loses, how sure that is, and what the log does not say.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LossesAnswer {
    /// Water lost to the air in a day.
    pub evaporation: DailyRateEstimate,
    /// Fluid carried off in a day on chips, parts and as mist.
    pub carry_off: DailyRateEstimate,
    /// How fast concentrate leaves with what is carried off, against its share;
    /// only when asked for.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub depletion_ratio: Option<RatioEstimate>,
    /// What the sump truly holds at its nominal capacity; only when asked for.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub volume: Option<VolumeEstimate>,
    /// How the errors of the results hang together.
    pub correlation: Correlations,
    /// How many u to either side of a value hold the truth in 95 of 100 logs.
    pub coverage_factor: Ratio,
    /// How uncertain the readings proved to be, where the request did not say.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub scatter: Option<Scatter>,
    /// The rates for each hour that the machine ran; only with running hours.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub per_running_hour: Option<HourlyRates>,
    /// The strength of the make-up that holds the sump where it is; absent where
    /// the sump loses nothing.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub make_up: Option<HoldingMakeUp>,
    /// What each interval between readings leaves over, by the log as it is
    /// written and the rates as they are answered.
    pub intervals: Vec<Interval>,
    /// What the log does not say, the surest first.
    pub findings: Vec<Finding>,
}

/// A daily rate and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DailyRateEstimate {
    /// The rate.
    pub value: DailyRate,
    /// Its standard uncertainty.
    pub u: DailyRate,
}

/// An hourly rate and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HourlyRateEstimate {
    /// The rate.
    pub value: Throughput,
    /// Its standard uncertainty.
    pub u: Throughput,
}

/// A ratio and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct RatioEstimate {
    /// The ratio.
    pub value: Ratio,
    /// Its standard uncertainty.
    pub u: Ratio,
}

/// A volume and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct VolumeEstimate {
    /// The volume.
    pub value: Volume,
    /// Its standard uncertainty.
    pub u: Volume,
}

/// A concentration and its standard uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ConcentrationEstimate {
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
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Correlations {
    /// Of evaporation and carry-off.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub evaporation_carry_off: Option<Correlation>,
    /// Of evaporation and depletion ratio.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub evaporation_depletion_ratio: Option<Correlation>,
    /// Of carry-off and depletion ratio.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub carry_off_depletion_ratio: Option<Correlation>,
    /// Of evaporation and volume.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub evaporation_volume: Option<Correlation>,
    /// Of carry-off and volume.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub carry_off_volume: Option<Correlation>,
    /// Of depletion ratio and volume.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub depletion_ratio_volume: Option<Correlation>,
}

/// Standard uncertainties of the readings, from their scatter about the fit.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Scatter {
    /// Of a volume read.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub volume: Option<Volume>,
    /// Of a concentration read.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub concentration: Option<Concentration>,
}

/// What is lost for each hour that the machine runs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HourlyRates {
    /// Water lost to the air.
    pub evaporation: HourlyRateEstimate,
    /// Fluid carried off.
    pub carry_off: HourlyRateEstimate,
    /// How many hours a day the machine ran over the log; the daily rates are for
    /// such a day.
    pub mean_daily_hours: Hours,
}

/// The make-up that holds a sump where it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HoldingMakeUp {
    /// Its strength.
    pub value: Concentration,
    /// The standard uncertainty of its strength.
    pub u: Concentration,
    /// The strength at which it holds the sump.
    pub holds: Concentration,
    /// How much of it goes in in a day.
    pub daily: DailyRateEstimate,
}

/// From one reading to the next of its kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Interval {
    /// The day it begins, as the log counts, or since its first entry.
    pub from: Days,
    /// The day it ends.
    pub to: Days,
    /// When it begins, as the log wrote it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub from_at: Option<String>,
    /// When it ends, as the log wrote it.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub to_at: Option<String>,
    /// What its balances leave over.
    pub residual: IntervalResidual,
}

/// What the balances of an interval leave over.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct IntervalResidual {
    /// Of the volume.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub volume: Option<LeftOver>,
    /// Of the concentrate.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub concentrate: Option<LeftOver>,
}

/// Something that the log does not say. The rates are answered with it accounted for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum Finding {
    /// Something was poured in and not written down.
    UnrecordedAddition(UnrecordedAddition),
    /// Something was taken out and not written down, or an addition never went in.
    UnrecordedRemoval(UnrecordedRemoval),
    /// Water runs in from a day onwards.
    WaterIngress(WaterIngress),
    /// A premix was not as strong as written.
    PremixOff(PremixOff),
    /// Readings of the strength are scaled from an entry onwards, or all of them.
    FactorOff(FactorOff),
    /// One level was read or written wrong.
    VolumeMisread(VolumeMisread),
    /// One strength was read or written wrong.
    ConcentrationMisread(ConcentrationMisread),
}

/// The kinds of findings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum FindingKind {
    /// Something was poured in and not written down.
    UnrecordedAddition,
    /// Something was taken out and not written down, or an addition never went in.
    UnrecordedRemoval,
    /// Water runs in from a day onwards.
    WaterIngress,
    /// A premix was not as strong as written.
    PremixOff,
    /// Readings of the strength are scaled.
    FactorOff,
    /// One level was read or written wrong.
    VolumeMisread,
    /// One strength was read or written wrong.
    ConcentrationMisread,
}

/// Something was poured in and not written down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct UnrecordedAddition {
    /// The day of the entry after which it was poured in.
    pub from: Days,
    /// The day of the entry that found it there.
    pub to: Days,
    /// How much it was.
    pub size: VolumeEstimate,
    /// How strong it was, as far as the log can tell.
    pub concentration: ConcentrationEstimate,
    /// What else would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<FindingKind>,
    /// What it means and what to do.
    pub text: String,
}

/// Something was taken out and not written down, or an addition never went in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct UnrecordedRemoval {
    /// The day of the entry after which it went.
    pub from: Days,
    /// The day of the entry that missed it.
    pub to: Days,
    /// How much it was.
    pub size: VolumeEstimate,
    /// What else would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<FindingKind>,
    /// What it means and what to do.
    pub text: String,
}

/// Water runs in from a day onwards.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WaterIngress {
    /// The day of the entry after which it began.
    pub from: Days,
    /// The day of the log's last entry.
    pub to: Days,
    /// How much in a day.
    pub size: DailyRateEstimate,
    /// What else would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<FindingKind>,
    /// What it means and what to do.
    pub text: String,
}

/// A premix was not as strong as written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PremixOff {
    /// The day of the first addition of it.
    pub from: Days,
    /// The day of the last addition of it.
    pub to: Days,
    /// How strong the first addition of it was by the sump's answer to it.
    pub size: ConcentrationEstimate,
    /// How strong the log says it was.
    pub claimed: Concentration,
    /// What else would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<FindingKind>,
    /// What it means and what to do.
    pub text: String,
}

/// Readings of the strength are scaled.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FactorOff {
    /// The day of the first reading that is scaled.
    pub from: Days,
    /// The day of the last.
    pub to: Days,
    /// How many times too high they are: 2 where a factor was applied twice over.
    pub size: RatioEstimate,
    /// What else would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<FindingKind>,
    /// What it means and what to do.
    pub text: String,
}

/// One level was read or written wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct VolumeMisread {
    /// The day of the entry.
    pub from: Days,
    /// The same day.
    pub to: Days,
    /// By how much it is too high; less than nothing where it is too low.
    pub size: LeftOver,
    /// What else would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<FindingKind>,
    /// What it means and what to do.
    pub text: String,
}

/// One strength was read or written wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ConcentrationMisread {
    /// The day of the entry.
    pub from: Days,
    /// The same day.
    pub to: Days,
    /// What it should have been, by the rest of the log.
    pub size: ConcentrationEstimate,
    /// What else would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<FindingKind>,
    /// What it means and what to do.
    pub text: String,
}
