//! The answer: losses with their uncertainty, and what was not written down.

mod estimates;
mod suspects;

pub use estimates::{
    EstimatedConcentration, EstimatedDailyRate, EstimatedHourlyRate, EstimatedRatio,
    EstimatedVolume, LeftOver, LossCorrelations, ReadingScatter,
};
pub use suspects::{
    AdditionMissing, ConcentrationMisread, FactorOff, InstrumentDrift, LogSuspect, PremixOff,
    SuspectKind, UnrecordedAddition, UnrecordedRemoval, VolumeMisread, WaterIngress,
};

use crate::quantity::{Concentration, Days, Hours, Ratio};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Losses of a sump, with their uncertainty, and what was not written down.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LossesAnswer {
    /// # Lost to evaporation
    ///
    /// Water lost to the air per day.
    pub evaporation: EstimatedDailyRate,
    /// # Lost on chips and parts
    ///
    /// Fluid carried off per day on chips and parts and as mist.
    pub carry_off: EstimatedDailyRate,
    /// # Lost while it stands
    ///
    /// Water lost to the air per day on which the machine stands; only where the log has such
    /// days.
    pub standing: Option<EstimatedDailyRate>,
    /// # Rates are of
    ///
    /// The day that the rates are of.
    pub of_a_day: DayOfRates,
    /// # Depletion ratio
    ///
    /// Strength of what is carried off, divided by that of the fluid; only when asked for.
    pub depletion_ratio: Option<EstimatedRatio>,
    /// # True volume
    ///
    /// Volume that the sump truly holds at its nominal capacity; only when asked for.
    pub volume: Option<EstimatedVolume>,
    /// # Correlations
    ///
    /// Correlations of the errors of the results.
    pub correlation: LossCorrelations,
    /// # Coverage factor
    ///
    /// Number of standard uncertainties to either side of a value that hold the truth in 95 of
    /// 100 logs.
    pub coverage_factor: Ratio,
    /// # Scatter of readings
    ///
    /// Standard uncertainty of the readings by their scatter, where the request did not say.
    pub scatter: Option<ReadingScatter>,
    /// # Per running hour
    ///
    /// Losses per hour that the machine ran; only with running hours, or with a calendar that
    /// says how many hours a day of work has.
    pub per_running_hour: Option<HourlyRates>,
    /// # Make-up
    ///
    /// Make-up that holds the sump where it is; absent where the sump loses no fluid, or where
    /// neat concentrate would be too weak.
    pub make_up: Option<HoldingMakeUp>,
    /// # Intervals
    ///
    /// Residual of each interval between readings, by the log as it is written and the rates as
    /// they are answered.
    pub intervals: Vec<LogInterval>,
    /// # Not in the log
    ///
    /// What was not written down, the surest first.
    pub suspects: Vec<LogSuspect>,
}

/// The day that rates are of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DayOfRates {
    /// Any day of the calendar, since the log says nothing of work.
    AnyDay,
    /// A day of the calendar with the mean running hours of the log.
    MeanDay,
    /// A day on which the shop works.
    DayOfWork,
}

/// Losses per hour that the machine runs.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HourlyRates {
    /// # Lost to evaporation
    ///
    /// Water lost to the air per running hour.
    pub evaporation: EstimatedHourlyRate,
    /// # Lost on chips and parts
    ///
    /// Fluid carried off per running hour.
    pub carry_off: EstimatedHourlyRate,
    /// # Running hours per day
    ///
    /// Mean number of hours per day that the machine ran over the log, or the hours of a day of
    /// work by the calendar; the daily rates are for such a day.
    pub mean_hours_per_day: Hours,
}

/// The make-up that holds a sump where it is.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct HoldingMakeUp {
    /// # Strength
    ///
    /// Concentration of the make-up.
    pub value: Concentration,
    /// # Standard uncertainty
    ///
    /// Standard uncertainty of its concentration.
    pub u: Concentration,
    /// # Holds the sump at
    ///
    /// Concentration at which it holds the sump.
    pub holds: Concentration,
    /// # Fill up per day
    ///
    /// Make-up per day.
    pub daily: EstimatedDailyRate,
}

/// From one reading to the next of its kind.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct LogInterval {
    /// # From day
    ///
    /// Day on which it begins, as the log counts, or since its first entry.
    pub from: Days,
    /// # To day
    ///
    /// Day on which it ends.
    pub to: Days,
    /// # From
    ///
    /// Moment at which it begins, as the log wrote it.
    pub from_at: Option<String>,
    /// # To
    ///
    /// Moment at which it ends, as the log wrote it.
    pub to_at: Option<String>,
    /// # Left over
    ///
    /// Residual of its balances.
    pub residual: IntervalResidual,
}

/// Residuals of the balances of an interval.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct IntervalResidual {
    /// # Volume
    ///
    /// Residual of the volume.
    pub volume: Option<LeftOver>,
    /// # Concentrate
    ///
    /// Residual of the concentrate.
    pub concentrate: Option<LeftOver>,
}
