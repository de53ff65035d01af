//! What a shop is asked about: its machines, its prices, and its ways of working.

mod way_costs;

pub use way_costs::{Fee, FilterMedia, Labour, Purchase, Running, Serves};

use crate::fluid::loss_rates::LossRates;
use crate::quantity::{
    Capacity, Concentration, Count, Frequency, Hours, MoneyPerEnergy, MoneyPerHour, MoneyPerVolume,
    Ratio, Share, Volume,
};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Machines that are alike: the same sump, the same strength, the same plan.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MachineGroup {
    /// What the shop calls them. Each group has its own name.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "lathes", min_length = 1, max_length = 128)]
    pub name: String,
    /// How many of them there are.
    #[schema(example = 9)]
    pub count: Count,
    /// What the sump of one of them holds.
    #[schema(example = 180.0)]
    pub volume: Capacity,
    /// How strong its fluid is kept.
    #[schema(example = 6.0)]
    pub concentration: Concentration,
    /// How often the shop's plan has each of them cleaned out.
    #[schema(example = 4.0)]
    pub clean_outs_a_year: Frequency,
    /// What one of them loses in a working day, made up with concentrate and
    /// water so that level and strength stay; nothing when left out.
    pub losses: Option<LossRates>,
}

/// What things cost. Whatever a way of working uses must have a price; give 0
/// for what is free.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Prices {
    /// Neat concentrate.
    #[schema(example = 5.2)]
    pub concentrate: Option<MoneyPerVolume>,
    /// Water, treated as the shop treats it.
    #[schema(example = 0.01)]
    pub water: Option<MoneyPerVolume>,
    /// Having spent fluid taken away, carrying it included.
    #[schema(example = 0.55)]
    pub disposal: Option<MoneyPerVolume>,
    /// An hour of the crew's work, with all that comes on top of the wage.
    #[schema(example = 38.0)]
    pub labour: Option<MoneyPerHour>,
    /// An hour for which a machine stands that would have worked.
    #[schema(example = 88.0)]
    pub idle_machine: Option<MoneyPerHour>,
    /// Electricity.
    #[schema(example = 0.16)]
    pub electricity: Option<MoneyPerEnergy>,
    /// Fuel of engines.
    #[schema(example = 1.3)]
    pub fuel: Option<MoneyPerVolume>,
}

/// One way of looking after the sumps, with all that it needs.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WayOfWorking {
    /// What the shop calls it. Each way has its own name.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "treatment on site", min_length = 1, max_length = 128)]
    pub name: String,
    /// Clean-outs for each one of the shop's plan: below 1 where the fluid lives
    /// longer this way, 0 where sumps are never emptied; 1 when left out.
    #[schema(example = 0.75)]
    pub clean_out_ratio: Option<Ratio>,
    /// How much of the fluid taken out is cleaned and put back at the strength
    /// of the sump; nothing when left out.
    #[schema(example = 80.0)]
    pub recovered: Option<Share>,
    /// Water to wash out a sump at each clean-out, disposed of with the fluid;
    /// none when left out.
    #[schema(example = 25.0)]
    pub wash_water: Option<Volume>,
    /// For how long a machine stands idle at each clean-out; not at all when
    /// left out.
    #[schema(example = 1.5)]
    pub idle_hours: Option<Hours>,
    /// What is bought for it: equipment, tanks, lines.
    #[schema(min_items = 1, max_items = 50)]
    pub purchases: Option<Vec<Purchase>>,
    /// The work that it takes.
    #[schema(min_items = 1, max_items = 50)]
    pub labour: Option<Vec<Labour>>,
    /// What is paid to others: a contract, hire, tests.
    #[schema(min_items = 1, max_items = 50)]
    pub fees: Option<Vec<Fee>>,
    /// Where its prices differ from the shop's, such as 0 for disposal that a
    /// contract includes.
    pub prices: Option<Prices>,
}

/// What an amount is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Per {
    /// For every clean-out of a machine.
    CleanOut,
    /// For every machine, each year.
    MachineYear,
    /// For the shop, each month.
    Month,
    /// For the shop, each year.
    Year,
}

/// A question for the number at which two ways cost the same.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BreakEvenQuestion {
    /// The number of this request to change, as a JSON pointer. Several of them
    /// change together, each by the same factor.
    #[schema(example = json!(["/prices/disposal"]), min_items = 1, max_items = 1000)]
    pub inputs: Vec<String>,
    /// The way of working that is to cost the same as the other.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "treatment on site", min_length = 1, max_length = 128)]
    pub way: String,
    /// The other; the baseline when left out.
    #[schema(example = "pump and drums")]
    pub against: Option<String>,
}
