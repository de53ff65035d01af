//! The parts of a shop, as a question names them.

use crate::fluid::loss_rates::LossRates;
use crate::fluid::properties::{ByProperty, Properties};
use crate::quantity::{
    Capacity, Concentration, ContentRise, Count, DailyRate, Days, Density, Months, PickUp, Share,
    Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What a sump takes up in a day: `tramp_oil` as a daily volume, any other name
/// as matter picked up from the work.
pub type Gains = ByProperty<DailyRate, MatterGain>;

/// What share of each property a treatment takes out.
pub type Removed = ByProperty<Share, Share>;

/// Sumps that are alike: the same size, strength, work and rhythm.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SumpGroup {
    /// What the shop calls them. Each group has its own name.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "lathes", min_length = 1, max_length = 128)]
    pub name: String,
    /// How many of them there are; 1 when left out.
    #[schema(example = 9)]
    pub count: Option<Count>,
    /// What each of them holds at its working level.
    #[schema(example = 180.0)]
    pub volume: Capacity,
    /// The strength at which each of them is held.
    #[schema(example = 6.0)]
    pub concentration: Concentration,
    /// What each of them loses in a day.
    pub losses: LossRates,
    /// When each of them is drained and refilled; never when left out.
    pub clean_out: Option<GroupCleanOut>,
    /// What each of them takes up in a day from the machine and the work:
    /// `tramp_oil` as a volume that stays in the fluid (what leaks less what is
    /// skimmed off), any other name as dissolved or suspended matter.
    #[serde(skip_serializing_if = "Gains::is_empty", default)]
    pub gains: Gains,
    /// Whether what is drained goes to the recycler's dirty tank; true when
    /// left out. If not, it is disposed of.
    pub returns: Option<bool>,
    /// What recycled fluid may be used for in them; for refills when left out.
    pub takes_recycled: Option<RecycledUse>,
    /// What the fluid in them carries on the first day of the way there;
    /// freshly mixed fluid when left out.
    pub carries_now: Option<Properties>,
}

/// What recycled fluid may be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum RecycledUse {
    /// Fresh fluid only.
    Nothing,
    /// For refilling after a clean-out.
    Refills,
    /// For refilling, and what refills leave over for topping up.
    RefillsAndMakeUp,
}

/// How often the sumps of a group are drained and refilled.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct GroupCleanOut {
    /// Every how many days a sump's turn comes. Give this or months.
    #[schema(example = 90.0)]
    pub every_days: Option<Days>,
    /// Every how many months a sump's turn comes, a twelfth of 365 days each.
    pub every_months: Option<Months>,
    /// What stays in the sump when it is emptied; nothing
    /// when left out.
    #[schema(example = 12.0)]
    pub residue: Option<Volume>,
}

/// Matter that a sump picks up from the work. Give one of the two.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MatterGain {
    /// How much of it comes into the sump in a day.
    #[schema(example = 400.0)]
    pub amount: Option<PickUp>,
    /// By how much a day's work alone raises its content.
    pub rise: Option<ContentRise>,
}

/// What the recycler does with the fluid that is drained.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopRecycler {
    /// How much of what the dirty tank gives goes through the recycler; all of
    /// it when left out. The rest is disposed of.
    #[schema(example = 90.0)]
    pub share: Option<Share>,
    /// How much of what goes through leaves, as it is, with the oil and the sludge.
    #[schema(example = 5.0)]
    pub lost: Share,
    /// What it takes out of the rest, by property; nothing of what is not named.
    #[serde(skip_serializing_if = "Removed::is_empty", default)]
    pub removes: Removed,
    /// How much of the concentrate it takes out of the rest as well; none when
    /// left out.
    pub removes_concentrate: Option<Share>,
}

/// The tanks on either side of the recycler.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopTanks {
    /// The tank for what was drained; none when left out.
    pub dirty: Option<LoopTank>,
    /// The tank for what the recycler gives back; none when left out.
    pub clean: Option<LoopTank>,
}

/// A tank that is well mixed.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopTank {
    /// What it holds.
    #[schema(example = 1000.0)]
    pub capacity: Capacity,
    /// What is in it when the day's work is taken out of it; half of its
    /// capacity when left out.
    #[schema(example = 400.0)]
    pub holds: Option<Volume>,
    /// What it carries on the first day of the way there; freshly mixed fluid
    /// when left out.
    pub carries_now: Option<Properties>,
}

/// The water that make-up and refills are mixed with.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopWater {
    /// What it carries as it comes from the main.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
    /// Deionised water that takes the place of a share of it; none when left out.
    pub deionised: Option<DeionisedShare>,
}

/// Deionised water in place of some of the water.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct DeionisedShare {
    /// Its share of all the water.
    #[schema(example = 25.0)]
    pub share: Share,
    /// What it still carries; nothing of what is not named.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}

/// The concentrate as it is bought.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoopConcentrate {
    /// Its density; that of water at 20 °C when left out.
    pub density: Option<Density>,
    /// What it carries of what is followed; nothing of what is not named.
    #[serde(skip_serializing_if = "Properties::is_empty", default)]
    pub properties: Properties,
}
