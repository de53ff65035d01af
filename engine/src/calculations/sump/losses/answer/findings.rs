//! What a log hides: additions and removals that nobody wrote down, and readings that are off.

use super::estimates::{
    EstimatedConcentration, EstimatedDailyRate, EstimatedRatio, EstimatedVolume, LeftOver,
};
use crate::quantity::{Concentration, Days};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Something that the log does not say. The rates are answered with it accounted for.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum LogFinding {
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
    pub size: EstimatedVolume,
    /// How strong it was, as far as the log can tell.
    pub concentration: EstimatedConcentration,
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
    pub size: EstimatedVolume,
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
    pub size: EstimatedDailyRate,
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
    pub size: EstimatedConcentration,
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
    pub size: EstimatedRatio,
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
    pub size: EstimatedConcentration,
    /// What else would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<FindingKind>,
    /// What it means and what to do.
    pub text: String,
}
