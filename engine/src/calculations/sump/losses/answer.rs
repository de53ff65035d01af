//! What the log of a sump is answered with.

mod estimates;
mod findings;

pub use estimates::{
    Correlations, EstimatedConcentration, EstimatedDailyRate, EstimatedHourlyRate, EstimatedRatio,
    EstimatedVolume, LeftOver, ReadingScatter,
};
pub use findings::{
    ConcentrationMisread, FactorOff, FindingKind, LogFinding, PremixOff, UnrecordedAddition,
    UnrecordedRemoval, VolumeMisread, WaterIngress,
};

use crate::quantity::{Concentration, Days, Hours, Ratio};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a sump loses, how sure that is, and what the log does not say.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LossesAnswer {
    /// Water lost to the air in a day.
    pub evaporation: EstimatedDailyRate,
    /// Fluid carried off in a day on chips, parts and as mist.
    pub carry_off: EstimatedDailyRate,
    /// How fast concentrate leaves with what is carried off, against its share;
    /// only when asked for.
    pub depletion_ratio: Option<EstimatedRatio>,
    /// What the sump truly holds at its nominal capacity; only when asked for.
    pub volume: Option<EstimatedVolume>,
    /// How the errors of the results hang together.
    pub correlation: Correlations,
    /// How many u to either side of a value hold the truth in 95 of 100 logs.
    pub coverage_factor: Ratio,
    /// How uncertain the readings proved to be, where the request did not say.
    pub scatter: Option<ReadingScatter>,
    /// The rates for each hour that the machine ran; only with running hours.
    pub per_running_hour: Option<HourlyRates>,
    /// The strength of the make-up that holds the sump where it is; absent where
    /// the sump loses nothing, or where neat concentrate would be too weak.
    pub make_up: Option<HoldingMakeUp>,
    /// What each interval between readings leaves over, by the log as it is
    /// written and the rates as they are answered.
    pub intervals: Vec<Interval>,
    /// What the log does not say, the surest first.
    pub findings: Vec<LogFinding>,
}

/// What is lost for each hour that the machine runs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HourlyRates {
    /// Water lost to the air.
    pub evaporation: EstimatedHourlyRate,
    /// Fluid carried off.
    pub carry_off: EstimatedHourlyRate,
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
    pub daily: EstimatedDailyRate,
}

/// From one reading to the next of its kind.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct Interval {
    /// The day it begins, as the log counts, or since its first entry.
    pub from: Days,
    /// The day it ends.
    pub to: Days,
    /// When it begins, as the log wrote it.
    pub from_at: Option<String>,
    /// When it ends, as the log wrote it.
    pub to_at: Option<String>,
    /// What its balances leave over.
    pub residual: IntervalResidual,
}

/// What the balances of an interval leave over.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct IntervalResidual {
    /// Of the volume.
    pub volume: Option<LeftOver>,
    /// Of the concentrate.
    pub concentrate: Option<LeftOver>,
}
