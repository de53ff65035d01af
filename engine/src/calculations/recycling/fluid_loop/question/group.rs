//! The sumps of a shop, alike ones together.

use crate::fluid::loss_rates::LossRates;
use crate::fluid::properties::{ByProperty, Properties};
use crate::quantity::{
    Capacity, Concentration, ContentRise, Count, DailyRate, Days, Months, PickUp, Volume,
};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a sump takes up in a day: tramp oil as a volume, any other name as matter picked up
/// from the work.
pub type SumpGains = ByProperty<OilGain, MatterGain>;

/// Sumps of the same size, strength, work and clean-out interval.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpGroup {
    /// # Group
    ///
    /// Name of the group. Each group has its own.
    pub name: Name,
    /// # Number of sumps
    ///
    /// Number of sumps in the group. Default: 1.
    #[schema(example = 9)]
    pub count: Option<Count>,
    /// # Volume of each
    ///
    /// Volume of fluid in each sump at its working level.
    #[schema(example = 180.0)]
    pub volume: Capacity,
    /// # Concentration
    ///
    /// Strength at which each sump is held.
    #[schema(example = 6.0)]
    pub concentration: Concentration,
    /// # Losses of each
    ///
    /// Losses of each sump in a day.
    pub losses: LossRates,
    /// # Clean-outs
    ///
    /// Interval between clean-outs, at which each sump is drained and refilled. Default:
    /// never.
    pub clean_out: Option<GroupCleanOut>,
    /// # Picked up by each
    ///
    /// What each sump takes up in a day from the machine and the work: `tramp_oil` by its
    /// volume, any other name as dissolved or suspended matter.
    #[serde(skip_serializing_if = "SumpGains::is_empty", default)]
    pub gains: SumpGains,
    /// # Returned to the recycler
    ///
    /// Whether drained fluid goes to the recycler's dirty tank. If not, it is disposed of.
    /// Default: true.
    pub returns: Option<bool>,
    /// # Use of recycled fluid
    ///
    /// Use of recycled fluid in these sumps. Default: `refills`.
    pub takes_recycled: Option<RecycledUse>,
    /// # In the fluid now
    ///
    /// Content of the fluid in these sumps on the first day that is followed. Default:
    /// freshly mixed fluid.
    pub carries_now: Option<Properties>,
}

/// Use of recycled fluid.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RecycledUse {
    /// None: fresh fluid only.
    Nothing,
    /// Refilling after a clean-out.
    Refills,
    /// Refilling first, and topping up with the rest.
    RefillsAndMakeUp,
}

/// Interval between two clean-outs of a sump, and the residue.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GroupCleanOut {
    /// # Interval between clean-outs
    ///
    /// Days between two clean-outs of the same sump. Give this or months.
    #[schema(example = 90.0)]
    pub every_days: Option<Days>,
    /// # Interval by the calendar
    ///
    /// Months between two clean-outs of the same sump, a twelfth of 365 days each.
    pub every_months: Option<Months>,
    /// # Residue
    ///
    /// Fluid left in the sump when it is drained. Default: 0.
    #[schema(example = 12.0)]
    pub residue: Option<Volume>,
}

/// Tramp oil that a sump takes up from the machine.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct OilGain {
    /// # Amount in a day
    ///
    /// Oil that stays in the fluid: what leaks in a day less what is skimmed off.
    #[schema(example = 0.12)]
    pub amount: DailyRate,
}

/// Matter that a sump picks up from the work. Give one of the two.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MatterGain {
    /// # Amount in a day
    ///
    /// Amount that comes into the sump in a day.
    #[schema(example = 400.0)]
    pub amount: Option<PickUp>,
    /// # Rise in a day
    ///
    /// Rise of the content in a day of work, without any losses or additions.
    pub rise: Option<ContentRise>,
}
