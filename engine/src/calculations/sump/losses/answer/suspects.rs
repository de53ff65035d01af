//! What was not written down: additions, removals, and readings that are off.

use super::estimates::{
    EstimatedConcentration, EstimatedDailyRate, EstimatedRatio, EstimatedVolume, LeftOver,
};
use crate::quantity::{Concentration, Days, Volume};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Something that is not in the log. The rates are answered with it accounted for; a
/// finding says what to do about it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "kind", rename_all = "snake_case")]
pub enum LogSuspect {
    /// Something was poured in and not written down.
    UnrecordedAddition(UnrecordedAddition),
    /// Something was taken out and not written down, or an addition never went in.
    UnrecordedRemoval(UnrecordedRemoval),
    /// An addition in the log, or a part of it, never went in.
    AdditionMissing(AdditionMissing),
    /// Water runs in from a day onwards.
    WaterIngress(WaterIngress),
    /// A premix was not as strong as written.
    PremixOff(PremixOff),
    /// Readings of the strength are scaled from an entry onwards, or all of them.
    FactorOff(FactorOff),
    /// Readings of the strength drift from an entry onwards.
    InstrumentDrift(InstrumentDrift),
    /// One level was read or written wrong.
    VolumeMisread(VolumeMisread),
    /// One strength was read or written wrong.
    ConcentrationMisread(ConcentrationMisread),
}

/// The kinds of suspects.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum SuspectKind {
    /// Something was poured in and not written down.
    UnrecordedAddition,
    /// Something was taken out and not written down, or an addition never went in.
    UnrecordedRemoval,
    /// An addition in the log, or a part of it, never went in.
    AdditionMissing,
    /// Water runs in from a day onwards.
    WaterIngress,
    /// A premix was not as strong as written.
    PremixOff,
    /// Readings of the strength are scaled.
    FactorOff,
    /// Readings of the strength drift.
    InstrumentDrift,
    /// One level was read or written wrong.
    VolumeMisread,
    /// One strength was read or written wrong.
    ConcentrationMisread,
}

impl SuspectKind {
    /// What a person calls it.
    pub(in super::super) const fn words(self) -> &'static str {
        match self {
            Self::UnrecordedAddition => "an addition that was not written down",
            Self::UnrecordedRemoval => "a removal that was not written down",
            Self::AdditionMissing => "an addition that never went in",
            Self::WaterIngress => "water that runs in",
            Self::PremixOff => "a premix of another strength",
            Self::FactorOff => "a wrong factor",
            Self::InstrumentDrift => "an instrument that drifts",
            Self::VolumeMisread => "a misread level",
            Self::ConcentrationMisread => "a misread strength",
        }
    }
}

/// Something was poured in and not written down.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct UnrecordedAddition {
    /// # From day
    ///
    /// Day of the entry after which it was poured in.
    pub from: Days,
    /// # To day
    ///
    /// Day of the entry that found it there.
    pub to: Days,
    /// # Volume
    ///
    /// Its volume.
    pub size: EstimatedVolume,
    /// # Strength
    ///
    /// Its concentration, as far as the log shows it.
    pub concentration: EstimatedConcentration,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}

/// Something was taken out and not written down, or an addition never went in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct UnrecordedRemoval {
    /// # From day
    ///
    /// Day of the entry after which it went missing.
    pub from: Days,
    /// # To day
    ///
    /// Day of the entry by which it was missing.
    pub to: Days,
    /// # Volume
    ///
    /// Its volume.
    pub size: EstimatedVolume,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}

/// An addition in the log, or a part of it, never went in.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct AdditionMissing {
    /// # From day
    ///
    /// Day of the entry that says it was poured in.
    pub from: Days,
    /// # To day
    ///
    /// Day of the entry that found it missing.
    pub to: Days,
    /// # Volume
    ///
    /// Volume that never went in.
    pub size: EstimatedVolume,
    /// # By the log
    ///
    /// Volume added by the log.
    pub claimed: Volume,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}

/// Water runs in from a day onwards.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct WaterIngress {
    /// # From day
    ///
    /// Day of the entry after which it began.
    pub from: Days,
    /// # To day
    ///
    /// The day of the log's last entry.
    pub to: Days,
    /// # Water per day
    ///
    /// Water that runs in per day.
    pub size: EstimatedDailyRate,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}

/// A premix was not as strong as written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct PremixOff {
    /// # From day
    ///
    /// Day of the first addition of it.
    pub from: Days,
    /// # To day
    ///
    /// Day of the last addition of it.
    pub to: Days,
    /// # True strength
    ///
    /// Concentration of the first addition of it, by what it did to the sump.
    pub size: EstimatedConcentration,
    /// # By the log
    ///
    /// Concentration by the log.
    pub claimed: Concentration,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}

/// Readings of the strength are scaled.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct FactorOff {
    /// # From day
    ///
    /// Day of the first reading that is scaled.
    pub from: Days,
    /// # To day
    ///
    /// Day of the last reading that is scaled.
    pub to: Days,
    /// # Times too high
    ///
    /// The readings, divided by what they should be: 2 where a factor of 2 was applied twice
    /// over.
    pub size: EstimatedRatio,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}

/// Readings of the strength drift from an entry onwards.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct InstrumentDrift {
    /// # From day
    ///
    /// Day of the entry after which it began.
    pub from: Days,
    /// # To day
    ///
    /// Day of the last reading.
    pub to: Days,
    /// # Times too high at the end
    ///
    /// The last reading, divided by what it should be.
    pub size: EstimatedRatio,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}

/// One level was read or written wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct VolumeMisread {
    /// # From day
    ///
    /// Day of the entry.
    pub from: Days,
    /// # To day
    ///
    /// The same day.
    pub to: Days,
    /// # Too high by
    ///
    /// Excess of the reading; negative where it is too low.
    pub size: LeftOver,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}

/// One strength was read or written wrong.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ConcentrationMisread {
    /// # From day
    ///
    /// Day of the entry.
    pub from: Days,
    /// # To day
    ///
    /// The same day.
    pub to: Days,
    /// # True strength
    ///
    /// Concentration by the rest of the log.
    pub size: EstimatedConcentration,
    /// # Nearly as likely
    ///
    /// Other kinds that would explain the log nearly as well.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub or_else: Vec<SuspectKind>,
}
