//! What a comparison is asked about: the machines of a shop, its prices, and the ways of
//! working to compare.

mod way_costs;

pub use way_costs::{
    CostBasis, CrewLabour, EquipmentRunning, Fee, FilterMedia, Purchase, PurchaseServes,
};

use crate::fluid::loss_rates::LossRates;
use crate::quantity::{
    Capacity, Concentration, Count, Days, Frequency, Hours, MoneyPerEnergy, MoneyPerHour,
    MoneyPerVolume, Ratio, Share, Volume,
};
use crate::text::Name;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// Ways of working to compare on one shop.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct CostComparison {
    /// # Currency
    ///
    /// Currency of all money in the request, handed back as it is.
    pub currency: Option<Name>,
    /// # Groups of machines
    ///
    /// The machines of the shop, in groups that are alike.
    #[schema(max_items = 1000)]
    pub machines: Vec<MachineGroup>,
    /// # Prices
    ///
    /// Prices in this shop.
    pub prices: ShopPrices,
    /// # Ways of working
    ///
    /// The ways of working to compare.
    #[schema(max_items = 20)]
    pub ways: Vec<WayOfWorking>,
    /// # Compared with
    ///
    /// Name of the way that the others are compared with. Default: the first.
    #[schema(example = "pump and drums")]
    pub baseline: Option<String>,
    /// # Years compared
    ///
    /// Years over which the ways are compared, 1 to 100.
    #[schema(example = 8)]
    pub horizon_years: Count,
    /// # Discount rate
    ///
    /// Real (inflation-free) discount rate per year. Default: 0 %.
    #[schema(example = 8.0)]
    pub discount_rate: Option<Share>,
    /// # Working days
    ///
    /// Days per year on which the machines work and lose fluid. Default: 250.
    #[schema(example = 250.0)]
    pub working_days_per_year: Option<Days>,
    /// # Inputs varied by
    ///
    /// Share by which each input is made smaller and larger in the sensitivity analysis.
    /// Default: 10 %.
    #[schema(example = 10.0)]
    pub vary_by: Option<Share>,
    /// # Break-even points
    ///
    /// Break-even points to find. Default: those of the five inputs that the choice depends
    /// on most.
    #[schema(max_items = 20)]
    pub break_even: Option<Vec<BreakEvenQuestion>>,
}

/// Machines that are alike: the same sump, the same concentration, the same plan.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct MachineGroup {
    /// # Group
    ///
    /// The shop's name for the group; each group has its own.
    pub name: Name,
    /// # Number of machines
    ///
    /// Number of machines.
    #[schema(example = 9)]
    pub count: Count,
    /// # Sump volume
    ///
    /// Volume of the sump of one of them.
    #[schema(example = 180.0)]
    pub volume: Capacity,
    /// # Concentration kept
    ///
    /// Concentration at which its fluid is kept.
    #[schema(example = 6.0)]
    pub concentration: Concentration,
    /// # Clean-outs planned
    ///
    /// Clean-outs of each machine per year by the shop's plan.
    #[schema(example = 4.0)]
    pub clean_outs_per_year: Frequency,
    /// # Daily losses
    ///
    /// Losses of one of them per working day, made up with concentrate and water so that
    /// level and concentration stay. Default: 0.
    pub losses: Option<LossRates>,
}

/// Prices. Whatever a way of working uses must have a price; give 0 for what is free.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ShopPrices {
    /// # Concentrate
    ///
    /// Price of neat concentrate.
    #[schema(example = 5.2)]
    pub concentrate: Option<MoneyPerVolume>,
    /// # Water
    ///
    /// Price of water, treated as the shop treats it.
    #[schema(example = 0.01)]
    pub water: Option<MoneyPerVolume>,
    /// # Disposal
    ///
    /// Price of having spent fluid taken away, carrying it included.
    #[schema(example = 0.55)]
    pub disposal: Option<MoneyPerVolume>,
    /// # Labour
    ///
    /// Cost of one hour of the crew's work, with all that comes on top of the wage.
    #[schema(example = 38.0)]
    pub labour: Option<MoneyPerHour>,
    /// # Idle machine
    ///
    /// Cost of one hour for which a machine stands idle that would have worked.
    #[schema(example = 88.0)]
    pub idle_machine: Option<MoneyPerHour>,
    /// # Electricity
    ///
    /// Price of electricity.
    #[schema(example = 0.16)]
    pub electricity: Option<MoneyPerEnergy>,
    /// # Fuel
    ///
    /// Price of fuel for engines.
    #[schema(example = 1.3)]
    pub fuel: Option<MoneyPerVolume>,
}

/// One way of looking after the sumps, with all that it needs.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WayOfWorking {
    /// # Way of working
    ///
    /// The shop's name for it; each way has its own.
    pub name: Name,
    /// # Clean-outs for each planned
    ///
    /// Clean-outs for each one of the shop's plan: below 1 where the fluid lives longer this
    /// way, 0 where sumps are never emptied. Default: 1.
    #[schema(example = 0.75)]
    pub clean_out_ratio: Option<Ratio>,
    /// # Recovered
    ///
    /// Share of the fluid taken out that is cleaned and put back at the concentration of the
    /// sump. Default: 0 %.
    #[schema(example = 80.0)]
    pub recovered: Option<Share>,
    /// # Wash water for a clean-out
    ///
    /// Water to wash out a sump at each clean-out, disposed of with the fluid. Default: 0.
    #[schema(example = 25.0)]
    pub wash_water: Option<Volume>,
    /// # Idle at a clean-out
    ///
    /// Hours for which a machine stands idle at each clean-out. Default: 0.
    #[schema(example = 1.5)]
    pub idle_hours: Option<Hours>,
    /// # Purchases
    ///
    /// Purchases for it: equipment, tanks, lines.
    #[schema(max_items = 50)]
    pub purchases: Option<Vec<Purchase>>,
    /// # Labour
    ///
    /// The crew's work for it.
    #[schema(max_items = 50)]
    pub labour: Option<Vec<CrewLabour>>,
    /// # Fees
    ///
    /// Fees paid to others: a contract, hire, tests.
    #[schema(max_items = 50)]
    pub fees: Option<Vec<Fee>>,
    /// # Own prices
    ///
    /// Prices that differ from the shop's, such as 0 for disposal that a contract includes.
    pub prices: Option<ShopPrices>,
}

/// A question for the value of an input at which two ways cost the same.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct BreakEvenQuestion {
    /// # Inputs to change
    ///
    /// JSON pointers of the numbers of this request to change. Several of them change
    /// together, each by the same factor.
    #[schema(example = json!(["/prices/disposal"]), max_items = 1000)]
    pub inputs: Vec<String>,
    /// # One way
    ///
    /// Name of the way of working that is to cost the same as the other.
    pub way: Name,
    /// # Other way
    ///
    /// Name of the other. Default: the baseline.
    #[schema(example = "pump and drums")]
    pub against: Option<String>,
}
