//! The sumps of a shop in groups, and the habit by which each is changed.

use crate::fluid::loss_rates::LossRates;
use crate::fluid::properties::{Limits, Properties};
use crate::quantity::{
    Capacity, Concentration, Count, DailyRate, Hours, Mass, Months, Share, Volume,
};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Sumps that are alike and treated alike. Every measure is that of one sump.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteGroup {
    /// # Group
    ///
    /// The shop's name for the group; each group has its own.
    pub name: Name,
    /// # Number of sumps
    ///
    /// Number of sumps. Default: 1.
    #[schema(example = 8)]
    pub count: Option<Count>,
    /// # Working volume
    ///
    /// Volume of one at its working level, without the tramp oil in it.
    #[schema(example = 220.0)]
    pub volume: Capacity,
    /// # Concentration kept
    ///
    /// Concentration it is kept at by topping up, in the fluid without its tramp oil.
    #[schema(example = 7.0)]
    pub concentration: Concentration,
    /// # Daily losses
    ///
    /// Losses of one per day, made up every day.
    pub losses: LossRates,
    /// # Lost while it stands
    ///
    /// Water lost to evaporation by one per day on which the shop does not work. Default: 0.
    #[schema(example = 2.0)]
    pub standing: Option<DailyRate>,
    /// # Fluid change
    ///
    /// When the sumps are changed. Default: never.
    pub change: Option<ChangeHabit>,
    /// # Left when emptied
    ///
    /// Volume that stays in one when it is emptied at a change. Default: 0.
    pub residue: Option<Volume>,
    /// # Rinsing
    ///
    /// Rinsing with water at a change. Default: none.
    pub rinse: Option<SumpRinse>,
    /// # Oil leak
    ///
    /// Tramp oil that leaks into one. Default: none.
    pub oil_leak: Option<SumpOilLeak>,
    /// # Fines
    ///
    /// Fines that settle in one. Default: none.
    pub fines: Option<SettledFines>,
    /// # Filter media
    ///
    /// Filter media of one. Default: none.
    pub filter: Option<SumpFilter>,
    /// # In the fluid at the start
    ///
    /// What else the fluid in one carries at the start. Default: no tramp oil, and what
    /// the make-up water brings to a fresh charge.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// # Spread of the losses
    ///
    /// Spread of the losses: how far they may lie above or below the values given, as a
    /// share of them. Anything in between is equally likely. Default: 0 %.
    pub losses_spread: Option<Share>,
}

/// When a sump is changed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(tag = "habit", rename_all = "snake_case")]
pub enum ChangeHabit {
    /// By the calendar.
    Calendar(ByCalendar),
    /// When the forecast says that a limit would be passed.
    Forecast(ByForecast),
    /// By a count of running hours.
    RunningHours(ByRunningHours),
}

/// Changes at a fixed interval, the sumps of the group one after the other.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ByCalendar {
    /// # Months between changes
    ///
    /// Months from one change of a sump to its next.
    #[schema(example = 6)]
    pub every_months: Count,
    /// # First month
    ///
    /// Month in which the first of them are changed, counted from 1. Default: the same
    /// as `every_months`.
    #[schema(example = 2)]
    pub first_month: Option<Count>,
    /// # Shared out over
    ///
    /// Number of months over which the changes of the group are shared out, as evenly as
    /// can be, from the first month on. Default: 1.
    #[schema(example = 3)]
    pub over_months: Option<Count>,
}

/// Changes at the end of the last month in which the fluid is still within its limits, by
/// the same closed form as `forecast`; every month where it does not last that long.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ByForecast {
    /// # Limits
    ///
    /// Upper limit of each property.
    pub limits: Limits,
}

/// Changes at the end of the month in which the count of running hours is full.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ByRunningHours {
    /// # Hours between changes
    ///
    /// Running hours from one change to the next.
    #[schema(example = 2000.0)]
    pub hours: Hours,
    /// # Running hours
    ///
    /// Running hours per month.
    #[schema(example = 320.0)]
    pub hours_per_month: Hours,
    /// # Hours so far
    ///
    /// Running hours since the last change, at the start. Default: 0.
    pub hours_now: Option<Hours>,
}

/// Rinsing a sump with water after it was emptied.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpRinse {
    /// # Water for a rinse
    ///
    /// Water for one rinse.
    #[schema(example = 20.0)]
    pub volume: Volume,
    /// # Number of rinses
    ///
    /// Number of rinses. Default: 1.
    pub times: Option<Count>,
}

/// Tramp oil that leaks into a sump.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpOilLeak {
    /// # Oil leaking in
    ///
    /// Oil that leaks in per day.
    #[schema(example = 0.15)]
    pub rate: DailyRate,
    /// # Skimmed off
    ///
    /// Share of it that a skimmer takes off as it comes. Default: 0 %.
    #[schema(example = 60.0)]
    pub skimmed: Option<Share>,
    /// # Oil in the skimmings
    ///
    /// Oil in the skimmings, % by volume. Default: 100 %.
    #[schema(example = 70.0)]
    pub oil_in_skimmings: Option<Concentration>,
    /// # Spread of the leak
    ///
    /// Spread of the rate: how far it may lie above or below the value given, as a share
    /// of it. Default: 0 %.
    pub spread: Option<Share>,
}

/// Fines that settle in a sump and are dug out as sludge.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SettledFines {
    /// # Dry fines
    ///
    /// Dry fines that settle per month.
    #[schema(example = 4.0)]
    pub mass_per_month: Mass,
    /// # Dry share of the sludge
    ///
    /// Dry fines in the sludge, % by mass.
    #[schema(example = 60.0)]
    pub dry_share: Share,
    /// # Months between diggings
    ///
    /// Months between two times of digging out. Default: only at each change.
    #[schema(example = 1)]
    pub every_months: Option<Count>,
    /// # Spread of the fines
    ///
    /// Spread of the fines: how far they may lie above or below the value given, as a
    /// share of it. Default: 0 %.
    pub spread: Option<Share>,
}

/// Filter media of a sump: sleeves, bags, cartridges, a band.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpFilter {
    /// # Mass of a dry set
    ///
    /// Mass of a new set, dry.
    #[schema(example = 1.2)]
    pub dry_mass: Mass,
    /// # Fluid in a used set
    ///
    /// Fluid that a used set takes with it. Default: 0.
    #[schema(example = 2.0)]
    pub fluid_held: Option<Volume>,
    /// # Life of a set
    ///
    /// Months that a set lasts.
    #[schema(example = 2.5)]
    pub every_months: Months,
}
