//! What a way of working costs: labour, fees, purchases, running and filter media.

use super::Per;
use crate::quantity::{Count, Hours, Money, MoneyPerHour, Power, Throughput, Weeks};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Work of one kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Labour {
    /// What is done.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "empty, scrape out and refill", min_length = 1, max_length = 128)]
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
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "tanker with its driver", min_length = 1, max_length = 128)]
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
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Purchase {
    /// What it is.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "separator and filter", min_length = 1, max_length = 128)]
    pub name: String,
    /// What one costs, ready to work; 0 for what is already there, negative for
    /// a grant.
    #[schema(example = 14500.0)]
    pub price: Money,
    /// How many; 1 when left out.
    #[schema(example = 1)]
    pub count: Option<Count>,
    /// Whether so many serve the shop or each machine; the shop when left out.
    pub serves: Option<Serves>,
    /// For how many years it lasts, to be bought again then; it outlasts the
    /// comparison when left out.
    #[schema(example = 8)]
    pub life_years: Option<Count>,
    /// What one is worth at the end of its life, or of the comparison where no
    /// life is given; nothing when left out, negative where getting rid of it costs.
    #[schema(example = 1000.0)]
    pub residual: Option<Money>,
    /// After how many years it is bought; now when left out.
    #[schema(example = 0)]
    pub bought_after_years: Option<Count>,
    /// What it takes to run; nothing when left out.
    pub running: Option<Running>,
}

/// What equipment takes to run, from when it is bought.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct Running {
    /// Running hours for each clean-out of a machine, of all pieces together;
    /// none when left out.
    #[schema(example = 0.6)]
    pub hours_a_clean_out: Option<Hours>,
    /// Running hours of each piece in a year besides; none when left out.
    #[schema(example = 400.0)]
    pub hours_a_year: Option<Hours>,
    /// Electrical power that one piece draws while it runs.
    #[schema(example = 2.2)]
    pub power: Option<Power>,
    /// Fuel that one piece burns while it runs.
    #[schema(example = 2.5)]
    pub fuel: Option<Throughput>,
    /// Upkeep for each running hour: wear, oil, service.
    #[schema(example = 1.5)]
    pub upkeep: Option<MoneyPerHour>,
    /// Filter media that it uses up.
    #[schema(min_items = 1, max_items = 20)]
    pub media: Option<Vec<FilterMedia>>,
}

/// Filter media that are changed when they are used up.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FilterMedia {
    /// What it is.
    #[serde(deserialize_with = "crate::text::names::name")]
    #[schema(example = "filter cartridge", min_length = 1, max_length = 128)]
    pub name: String,
    /// What one costs, getting rid of it included.
    #[schema(example = 32.0)]
    pub price: Money,
    /// How many a piece of equipment holds; 1 when left out.
    #[schema(example = 2)]
    pub count: Option<Count>,
    /// How long one lasts by the calendar. Give this or running hours.
    #[schema(example = 12.0)]
    pub life_weeks: Option<Weeks>,
    /// How many running hours one lasts. Give this or weeks.
    pub life_hours: Option<Hours>,
}
