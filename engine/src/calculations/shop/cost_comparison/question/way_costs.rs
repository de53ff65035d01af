//! The costs of a way of working: labour, fees, purchases, running and filter media.

use crate::quantity::{Count, Hours, Money, MoneyPerHour, Power, Throughput, Weeks};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// What an amount is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum CostBasis {
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
pub struct CrewLabour {
    /// # Work
    ///
    /// The work that is done.
    pub name: Name,
    /// # Hours of work
    ///
    /// Hours of all who do it together.
    #[schema(example = 1.2)]
    pub hours: Hours,
    /// # For each
    ///
    /// What these hours are for.
    pub per: CostBasis,
}

/// Something that is paid to others.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = FeePaid)]
pub struct Fee {
    /// # Service
    ///
    /// The service that is paid for.
    pub name: Name,
    /// # Amount
    ///
    /// Amount of the fee.
    #[schema(example = 310.0)]
    pub amount: Money,
    /// # For each
    ///
    /// What this amount is for.
    pub per: CostBasis,
}

/// Whether one lot serves the shop or each machine has its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum PurchaseServes {
    /// One lot for the whole shop.
    Shop,
    /// A lot for every machine.
    EachMachine,
}

/// Something that is bought and, where its life ends, bought again.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(as = WayPurchase)]
pub struct Purchase {
    /// # Purchase
    ///
    /// The thing that is bought.
    pub name: Name,
    /// # Price of one
    ///
    /// Price of one, ready to work; 0 for what is already there, negative for a grant.
    #[schema(example = 14500.0)]
    pub price: Money,
    /// # Number
    ///
    /// Number of them. Default: 1.
    #[schema(example = 1)]
    pub count: Option<Count>,
    /// # Serves
    ///
    /// Whether that number serves the shop or each machine. Default: `shop`.
    pub serves: Option<PurchaseServes>,
    /// # Life
    ///
    /// Years that it lasts, to be bought again then. Default: it outlasts the comparison.
    #[schema(example = 8)]
    pub life_years: Option<Count>,
    /// # Residual value
    ///
    /// Value of one at the end of its life, or of the comparison where no life is given;
    /// negative where disposing of it costs money. Default: 0.
    #[schema(example = 1000.0)]
    pub residual: Option<Money>,
    /// # Bought after
    ///
    /// Years from now after which it is bought. Default: 0.
    #[schema(example = 0)]
    pub bought_after_years: Option<Count>,
    /// # Running costs
    ///
    /// Costs of running it. Default: 0.
    pub running: Option<EquipmentRunning>,
}

/// What equipment uses while it runs, from when it is bought.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct EquipmentRunning {
    /// # Hours for a clean-out
    ///
    /// Running hours for each clean-out of a machine, of all pieces together. Default: 0.
    #[schema(example = 0.6)]
    pub hours_per_clean_out: Option<Hours>,
    /// # Hours besides
    ///
    /// Running hours of each piece per year, beside those for clean-outs. Default: 0.
    #[schema(example = 400.0)]
    pub hours_per_year: Option<Hours>,
    /// # Power
    ///
    /// Electrical power that one piece draws while it runs.
    #[schema(example = 2.2)]
    pub power: Option<Power>,
    /// # Fuel
    ///
    /// Fuel that one piece burns while it runs.
    #[schema(example = 2.5)]
    pub fuel: Option<Throughput>,
    /// # Upkeep
    ///
    /// Upkeep for each running hour: wear, oil, service.
    #[schema(example = 1.5)]
    pub upkeep: Option<MoneyPerHour>,
    /// # Filter media
    ///
    /// Filter media that it uses up.
    #[schema(max_items = 20)]
    pub media: Option<Vec<FilterMedia>>,
}

/// Filter media that are changed when they are used up.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct FilterMedia {
    /// # Medium
    ///
    /// The medium.
    pub name: Name,
    /// # Price of one
    ///
    /// Price of one, its disposal included.
    #[schema(example = 32.0)]
    pub price: Money,
    /// # Number
    ///
    /// Number that a piece of equipment holds. Default: 1.
    #[schema(example = 2)]
    pub count: Option<Count>,
    /// # Life by the calendar
    ///
    /// Life of one by the calendar. Give this or running hours.
    #[schema(example = 12.0)]
    pub life_weeks: Option<Weeks>,
    /// # Life by running hours
    ///
    /// Life of one in running hours. Give this or weeks.
    pub life_hours: Option<Hours>,
}
