//! What a shop is asked about: its machines, its prices, and its ways of working.

use crate::losses::Losses;
use crate::quantity::{
    Capacity, Concentration, Count, Frequency, Hours, Money, MoneyPerEnergy, MoneyPerHour,
    MoneyPerVolume, Power, Ratio, Share, Throughput, Volume, Weeks,
};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// Machines that are alike: the same sump, the same strength, the same plan.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MachineGroup {
    /// What the shop calls them. Each group has its own name.
    #[serde(deserialize_with = "crate::text::name")]
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
    #[serde(skip_serializing_if = "Option::is_none")]
    pub losses: Option<Losses>,
}

/// What things cost. Whatever a way of working uses must have a price; give 0
/// for what is free.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Prices {
    /// Neat concentrate.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 5.2)]
    pub concentrate: Option<MoneyPerVolume>,
    /// Water, treated as the shop treats it.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 0.01)]
    pub water: Option<MoneyPerVolume>,
    /// Having spent fluid taken away, carrying it included.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 0.55)]
    pub disposal: Option<MoneyPerVolume>,
    /// An hour of the crew's work, with all that comes on top of the wage.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 38.0)]
    pub labour: Option<MoneyPerHour>,
    /// An hour for which a machine stands that would have worked.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 60.0)]
    pub idle_machine: Option<MoneyPerHour>,
    /// Electricity.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 0.16)]
    pub electricity: Option<MoneyPerEnergy>,
    /// Fuel of engines.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 1.3)]
    pub fuel: Option<MoneyPerVolume>,
}

/// One way of looking after the sumps, with all that it needs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WayOfWorking {
    /// What the shop calls it. Each way has its own name.
    #[serde(deserialize_with = "crate::text::name")]
    #[schema(example = "powered, plug-in", min_length = 1, max_length = 128)]
    pub name: String,
    /// Clean-outs for each one of the shop's plan: below 1 where the fluid lives
    /// longer this way, 0 where sumps are never emptied; 1 when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 0.75)]
    pub clean_out_ratio: Option<Ratio>,
    /// How much of the fluid taken out is cleaned and put back at the strength
    /// of the sump; nothing when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 80.0)]
    pub recovered: Option<Share>,
    /// Water to wash out a sump at each clean-out, disposed of with the fluid;
    /// none when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 25.0)]
    pub wash_water: Option<Volume>,
    /// For how long a machine stands idle at each clean-out; not at all when
    /// left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 1.5)]
    pub idle_hours: Option<Hours>,
    /// What is bought for it: equipment, outlets, tanks.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(min_items = 1, max_items = 50)]
    pub purchases: Option<Vec<Purchase>>,
    /// The work that it takes.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(min_items = 1, max_items = 50)]
    pub labour: Option<Vec<Labour>>,
    /// What is paid to others: a contract, hire, tests.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(min_items = 1, max_items = 50)]
    pub fees: Option<Vec<Fee>>,
    /// Where its prices differ from the shop's, such as 0 for disposal that a
    /// contract includes.
    #[serde(skip_serializing_if = "Option::is_none")]
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

/// Work of one kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Labour {
    /// What is done.
    #[serde(deserialize_with = "crate::text::name")]
    #[schema(example = "suck out, wipe, refill", min_length = 1, max_length = 128)]
    pub name: String,
    /// How long it takes, the hours of all who do it together.
    #[schema(example = 1.2)]
    pub hours: Hours,
    /// What that is for.
    pub per: Per,
}

/// Something that is paid to others.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Fee {
    /// What it is paid for.
    #[serde(deserialize_with = "crate::text::name")]
    #[schema(example = "service contract", min_length = 1, max_length = 128)]
    pub name: String,
    /// How much.
    #[schema(example = 310.0)]
    pub amount: Money,
    /// What that is for.
    pub per: Per,
}

/// Whether one lot serves the shop or each machine has its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Serves {
    /// One lot for the whole shop.
    Shop,
    /// A lot for every machine.
    EachMachine,
}

/// Something that is bought and, where its life ends, bought again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Purchase {
    /// What it is.
    #[serde(deserialize_with = "crate::text::name")]
    #[schema(example = "vacuum cart, plug-in", min_length = 1, max_length = 128)]
    pub name: String,
    /// What one costs, ready to work; 0 for what is already there, negative for
    /// a grant.
    #[schema(example = 14500.0)]
    pub price: Money,
    /// How many; 1 when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 1)]
    pub count: Option<Count>,
    /// Whether so many serve the shop or each machine; the shop when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub serves: Option<Serves>,
    /// For how many years it lasts, to be bought again then; it outlasts the
    /// comparison when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 8)]
    pub life_years: Option<Count>,
    /// What one is worth at the end of its life, or of the comparison where no
    /// life is given; nothing when left out, negative where getting rid of it costs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 1000.0)]
    pub residual: Option<Money>,
    /// After how many years it is bought; now when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 0)]
    pub bought_after_years: Option<Count>,
    /// What it takes to run; nothing when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub running: Option<Running>,
}

/// What equipment takes to run, from when it is bought.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Running {
    /// Running hours for each clean-out of a machine, of all pieces together;
    /// none when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 0.6)]
    pub hours_a_clean_out: Option<Hours>,
    /// Running hours of each piece in a year besides; none when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 400.0)]
    pub hours_a_year: Option<Hours>,
    /// Electrical power that one piece draws while it runs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 2.2)]
    pub power: Option<Power>,
    /// Fuel that one piece burns while it runs.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 2.5)]
    pub fuel: Option<Throughput>,
    /// Upkeep for each running hour: wear, oil, service.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 1.5)]
    pub upkeep: Option<MoneyPerHour>,
    /// Filter media that it uses up.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(min_items = 1, max_items = 20)]
    pub media: Option<Vec<FilterMedia>>,
}

/// Filter media that are changed when they are used up.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FilterMedia {
    /// What it is.
    #[serde(deserialize_with = "crate::text::name")]
    #[schema(example = "filter sleeve", min_length = 1, max_length = 128)]
    pub name: String,
    /// What one costs, getting rid of it included.
    #[schema(example = 32.0)]
    pub price: Money,
    /// How many a piece of equipment holds; 1 when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 2)]
    pub count: Option<Count>,
    /// How long one lasts by the calendar. Give this or running hours.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = 12.0)]
    pub life_weeks: Option<Weeks>,
    /// How many running hours one lasts. Give this or weeks.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub life_hours: Option<Hours>,
}

/// A question for the number at which two ways cost the same.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BreakEvenQuestion {
    /// The number of this request to change, as a JSON pointer. Several of them
    /// change together, each by the same factor.
    #[schema(example = json!(["/ways/1/purchases/1/count"]), min_items = 1, max_items = 1000)]
    pub inputs: Vec<String>,
    /// The way of working that is to cost the same as the other.
    #[serde(deserialize_with = "crate::text::name")]
    #[schema(example = "powered, plug-in", min_length = 1, max_length = 128)]
    pub way: String,
    /// The other; the baseline when left out.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[schema(example = "by hand, by the calendar")]
    pub against: Option<String>,
}
