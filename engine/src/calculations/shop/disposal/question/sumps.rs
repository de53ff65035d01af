//! The sumps of a shop in groups, and the habit by which each is changed.

use crate::fluid::loss_rates::LossRates;
use crate::fluid::properties::{Limits, Properties};
use crate::quantity::{
    Capacity, Concentration, Count, DailyRate, Hours, Mass, Months, Share, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Sumps that are alike and treated alike. Every measure is that of one sump.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WasteGroup {
    /// The shop's name for the group; each group has its own.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(title = "Group", example = "lathes", min_length = 1, max_length = 128)]
    pub name: String,
    /// Number of sumps. Default: 1.
    #[schema(title = "Number of sumps", example = 8)]
    pub count: Option<Count>,
    /// Volume of one at its working level, without the tramp oil in it.
    #[schema(title = "Working volume", example = 220.0)]
    pub volume: Capacity,
    /// Concentration it is kept at by topping up, in the fluid without its tramp oil.
    #[schema(title = "Concentration kept", example = 7.0)]
    pub concentration: Concentration,
    /// Losses of one per day, made up every day.
    #[schema(title = "Daily losses")]
    pub losses: LossRates,
    /// When the sumps are changed. Default: never.
    #[schema(title = "Fluid change")]
    pub change: Option<ChangeHabit>,
    /// Volume that stays in one when it is emptied at a change. Default: 0.
    #[schema(title = "Left when emptied")]
    pub residue: Option<Volume>,
    /// Rinsing with water at a change. Default: none.
    #[schema(title = "Rinsing")]
    pub rinse: Option<SumpRinse>,
    /// Tramp oil that leaks into one. Default: none.
    #[schema(title = "Oil leak")]
    pub oil_leak: Option<SumpOilLeak>,
    /// Fines that settle in one. Default: none.
    #[schema(title = "Fines")]
    pub fines: Option<SettledFines>,
    /// Filter media of one. Default: none.
    #[schema(title = "Filter media")]
    pub filter: Option<SumpFilter>,
    /// What else the fluid in one carries at the start. Default: no tramp oil, and what
    /// the make-up water brings to a fresh charge.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    #[schema(title = "In the fluid at the start")]
    pub properties: Properties,
    /// Spread of the losses: how far they may lie above or below the values given, as a
    /// share of them. Anything in between is equally likely. Default: 0 %.
    #[schema(title = "Spread of the losses")]
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
    /// Months from one change of a sump to its next.
    #[schema(title = "Months between changes", example = 6)]
    pub every_months: Count,
    /// Month in which the first of them are changed, counted from 1. Default: the same
    /// as `every_months`.
    #[schema(title = "First month", example = 2)]
    pub first_month: Option<Count>,
    /// Number of months over which the changes of the group are shared out, as evenly as
    /// can be, from the first month on. Default: 1.
    #[schema(title = "Shared out over", example = 3)]
    pub over_months: Option<Count>,
}

/// Changes at the end of the last month in which the fluid is still within its limits, by
/// the same closed form as `forecast`; every month where it does not last that long.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ByForecast {
    /// Upper limit of each property.
    #[schema(title = "Limits")]
    pub limits: Limits,
}

/// Changes at the end of the month in which the count of running hours is full.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ByRunningHours {
    /// Running hours from one change to the next.
    #[schema(title = "Hours between changes", example = 2000.0)]
    pub hours: Hours,
    /// Running hours per month.
    #[schema(title = "Running hours", example = 320.0)]
    pub hours_per_month: Hours,
    /// Running hours since the last change, at the start. Default: 0.
    #[schema(title = "Hours so far")]
    pub hours_now: Option<Hours>,
}

/// Rinsing a sump with water after it was emptied.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpRinse {
    /// Water for one rinse.
    #[schema(title = "Water for a rinse", example = 20.0)]
    pub volume: Volume,
    /// Number of rinses. Default: 1.
    #[schema(title = "Number of rinses")]
    pub times: Option<Count>,
}

/// Tramp oil that leaks into a sump.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpOilLeak {
    /// Oil that leaks in per day.
    #[schema(title = "Oil leaking in", example = 0.15)]
    pub rate: DailyRate,
    /// Share of it that a skimmer takes off as it comes. Default: 0 %.
    #[schema(title = "Skimmed off", example = 60.0)]
    pub skimmed: Option<Share>,
    /// Oil in the skimmings, % by volume. Default: 100 %.
    #[schema(title = "Oil in the skimmings", example = 70.0)]
    pub oil_in_skimmings: Option<Concentration>,
    /// Spread of the rate: how far it may lie above or below the value given, as a share
    /// of it. Default: 0 %.
    #[schema(title = "Spread of the leak")]
    pub spread: Option<Share>,
}

/// Fines that settle in a sump and are dug out as sludge.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SettledFines {
    /// Dry fines that settle per month.
    #[schema(title = "Dry fines", example = 4.0)]
    pub mass_per_month: Mass,
    /// Dry fines in the sludge, % by mass.
    #[schema(title = "Dry share of the sludge", example = 60.0)]
    pub dry_share: Share,
    /// Months between two times of digging out. Default: only at each change.
    #[schema(title = "Months between diggings", example = 1)]
    pub every_months: Option<Count>,
    /// Spread of the fines: how far they may lie above or below the value given, as a
    /// share of it. Default: 0 %.
    #[schema(title = "Spread of the fines")]
    pub spread: Option<Share>,
}

/// Filter media of a sump: sleeves, bags, cartridges, a band.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpFilter {
    /// Mass of a new set, dry.
    #[schema(title = "Mass of a dry set", example = 1.2)]
    pub dry_mass: Mass,
    /// Fluid that a used set takes with it. Default: 0.
    #[schema(title = "Fluid in a used set", example = 2.0)]
    pub fluid_held: Option<Volume>,
    /// Months that a set lasts.
    #[schema(title = "Life of a set", example = 2.5)]
    pub every_months: Months,
}
