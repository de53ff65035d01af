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
    /// What the shop calls them.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "lathes", min_length = 1, max_length = 128)]
    pub name: String,
    /// How many there are; 1 when left out.
    #[schema(example = 8)]
    pub count: Option<Count>,
    /// What one holds at its working level, without the tramp oil in it.
    #[schema(example = 220.0)]
    pub volume: Capacity,
    /// The strength it is kept at by topping up, in the fluid without its tramp oil.
    #[schema(example = 7.0)]
    pub concentration: Concentration,
    /// What one loses in a day, made up for every day.
    pub losses: LossRates,
    /// When they are changed; never when left out.
    pub change: Option<ChangeHabit>,
    /// What stays in it when it is emptied at a change; nothing when left out.
    pub residue: Option<Volume>,
    /// How one is rinsed at a change; not at all when left out.
    pub rinse: Option<SumpRinse>,
    /// Tramp oil that leaks into one; none when left out.
    pub oil_leak: Option<SumpOilLeak>,
    /// Fines that settle in one; none when left out.
    pub fines: Option<SettledFines>,
    /// The filter media of one; none when left out.
    pub filter: Option<SumpFilter>,
    /// What else the fluid in one carries at the start. Without tramp oil, and
    /// with what the make-up water brings to a fresh charge, when left out.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// How far the losses may lie above or below what is given here, as a share
    /// of it. Anything in between is taken to be as likely.
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

/// Every so many months, the sumps of the group one after the other.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ByCalendar {
    /// Months from one change of a sump to its next.
    #[schema(example = 6)]
    pub every_months: Count,
    /// The month in which the first of them are changed, counted from 1; as
    /// `every_months` when left out.
    #[schema(example = 2)]
    pub first_month: Option<Count>,
    /// Over how many months the sumps of the group are shared out, as evenly as
    /// can be, from the first month on; all in one month when left out.
    #[schema(example = 3)]
    pub over_months: Option<Count>,
}

/// At the end of the last month in which the fluid is still within its limits, by
/// the same closed form as `forecast`; every month where it does not hold that long.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ByForecast {
    /// The most of each property that is tolerated.
    pub limits: Limits,
}

/// At the end of the month in which the count of running hours is full.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ByRunningHours {
    /// Running hours from one change to the next.
    #[schema(example = 2000.0)]
    pub hours: Hours,
    /// Running hours in a month.
    #[schema(example = 320.0)]
    pub hours_per_month: Hours,
    /// What the count reads at the start; nothing when left out.
    pub hours_now: Option<Hours>,
}

/// Rinsing a sump with water after it was emptied.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpRinse {
    /// Water for a rinse.
    #[schema(example = 20.0)]
    pub volume: Volume,
    /// How many times; once when left out.
    pub times: Option<Count>,
}

/// Tramp oil that leaks into a sump.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpOilLeak {
    /// How much leaks in.
    #[schema(example = 0.15)]
    pub rate: DailyRate,
    /// How much of it a skimmer takes off as it comes; none when left out.
    #[schema(example = 60.0)]
    pub skimmed: Option<Share>,
    /// How much of the skimmings is oil, % by volume; all of it when left out.
    #[schema(example = 70.0)]
    pub oil_in_skimmings: Option<Concentration>,
    /// How far the rate may lie above or below what is given, as a share of it.
    pub spread: Option<Share>,
}

/// Fines that settle in a sump and are dug out as sludge.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SettledFines {
    /// Dry fines that settle in a month.
    #[schema(example = 4.0)]
    pub monthly: Mass,
    /// How much of the sludge's mass is dry fines.
    #[schema(example = 60.0)]
    pub dry_share: Share,
    /// Months from one digging out to the next; only at each change when left out.
    #[schema(example = 1)]
    pub every_months: Option<Count>,
    /// How far the fines may lie above or below what is given, as a share of it.
    pub spread: Option<Share>,
}

/// Filter media of a sump: sleeves, bags, cartridges, a band.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpFilter {
    /// Mass of a new set, dry.
    #[schema(example = 1.2)]
    pub dry_mass: Mass,
    /// Fluid that a used set takes with it; none when left out.
    #[schema(example = 2.0)]
    pub fluid_held: Option<Volume>,
    /// Months that a set lasts.
    #[schema(example = 2.5)]
    pub every_months: Months,
}
