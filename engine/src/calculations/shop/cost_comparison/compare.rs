//! Ways side by side: yearly costs, paybacks, rates and crossings.

use super::answer::{
    AgainstBaseline, CostCrossing, InternalRate, PaybackTime, PaybackVerdict, WayCost, YearOfCosts,
};
use super::costs::Costs;
use super::fluid::FluidYear;
use super::{CostComparison, CostComparisonAnswer};
use crate::numerics::money::{self, Payback};
use crate::numerics::order;
use crate::quantity::{AnnualRate, Count, Money, Quantity, Years};
use crate::text::Refusal;

impl CostComparison {
    pub(super) fn way_costs(
        &self,
        fluids: &[FluidYear],
        costs: &[Costs],
    ) -> Result<Vec<WayCost>, Refusal> {
        let rate = self.rate();
        let baseline = self.baseline_place();
        let each = self.ways.iter().zip(fluids).zip(costs).enumerate();
        let each = each.map(|(place, ((way, fluid), own))| {
            let flows = own.flows();
            let yearly = own.level(rate, &flows);
            let against = (place != baseline).then(|| against(rate, &costs[baseline], own));
            Ok(WayCost {
                name: way.name.to_string(),
                cost_per_year: Money::of(yearly)?,
                cost_per_year_by_heading: own.yearly(rate)?,
                cost_per_year_per_machine: Money::of(yearly / self.machine_count())?,
                outlay: Money::of(flows[0])?,
                present_cost: Money::of(money::npv(rate, &flows))?,
                fluid: fluid.answer()?,
                years: years(rate, own)?,
                against_baseline: against.transpose()?,
            })
        });
        each.collect()
    }

    /// Where the sums spent on any two ways cross, in the order of time.
    pub(super) fn crossings(&self, costs: &[Costs]) -> Result<Vec<CostCrossing>, Refusal> {
        let spent: Vec<Vec<f64>> =
            costs.iter().map(|costs| money::cumulated(&costs.flows())).collect();
        let mut found = Vec::new();
        for one in 0..spent.len() {
            for other in one + 1..spent.len() {
                let apart: Vec<f64> =
                    spent[one].iter().zip(&spent[other]).map(|(a, b)| a - b).collect();
                // The sums change places at each crossing, whoever began ahead.
                let first = apart.iter().copied().find(|apart| apart.abs() > 0.0);
                let mut dearer_is_one = first.is_some_and(|apart| apart > 0.0);
                for years in money::crossings(&apart) {
                    let (before, after) = if dearer_is_one { (other, one) } else { (one, other) };
                    found.push((years, after, before));
                    dearer_is_one = !dearer_is_one;
                }
            }
        }
        order::least_first(&mut found, |(years, ..)| *years);
        let name = |place: usize| self.ways[place].name.to_string();
        let crossings = found.into_iter().map(|(years, after, before)| {
            Ok(CostCrossing {
                years: Years::of(years)?,
                cheaper_after: name(after),
                cheaper_before: name(before),
            })
        });
        crossings.collect()
    }
}

/// What is spent in each year.
fn years(rate: f64, costs: &Costs) -> Result<Vec<YearOfCosts>, Refusal> {
    let flows = costs.flows();
    let spent = money::cumulated(&flows);
    let discounted = money::cumulated(&money::discounted(rate, &flows));
    let each = costs.purchases().into_iter().enumerate().map(|(year, purchases)| {
        Ok(YearOfCosts {
            year: Count::from_usize(year)?,
            purchases: Money::of(purchases)?,
            running: Money::of(flows[year] - purchases)?,
            spent: Money::of(spent[year])?,
            spent_discounted: Money::of(discounted[year])?,
        })
    });
    each.collect()
}

/// One way against the baseline.
fn against(rate: f64, baseline: &Costs, own: &Costs) -> Result<AgainstBaseline, Refusal> {
    let saves = saved(&baseline.flows(), &own.flows());
    Ok(AgainstBaseline {
        saves_per_year: Money::of(own.level(rate, &saves))?,
        npv: Money::of(money::npv(rate, &saves))?,
        payback: payback_time(&saves)?,
        payback_discounted: payback_time(&money::discounted(rate, &saves))?,
        internal_rate: internal_rate(&saves)?,
        saves: saves.into_iter().map(Money::of).collect::<Result<_, _>>()?,
    })
}

/// What the one saves against the other in each year; a difference that rounding
/// could have made is none.
fn saved(baseline: &[f64], own: &[f64]) -> Vec<f64> {
    let each = baseline.iter().zip(own).map(|(baseline, own)| {
        let saved = baseline - own;
        let rounding = 8.0 * f64::EPSILON * baseline.abs().max(own.abs());
        if saved.abs() <= rounding { 0.0 } else { saved }
    });
    each.collect()
}

fn payback_time(saves: &[f64]) -> Result<PaybackTime, Refusal> {
    let (years, verdict) = match money::payback(saves) {
        Payback::NothingToPayBack => (None, PaybackVerdict::NothingToPayBack),
        Payback::NotWithinTheYears => (None, PaybackVerdict::NotWithinTheYears),
        Payback::After { years, for_good: true } => (Some(years), PaybackVerdict::PaysBack),
        Payback::After { years, for_good: false } => {
            (Some(years), PaybackVerdict::PaysBackForATime)
        }
    };
    Ok(PaybackTime { years: years.map(Years::of).transpose()?, verdict })
}

fn internal_rate(saves: &[f64]) -> Result<InternalRate, Refusal> {
    let found = money::internal_rates(saves);
    let rates = found.rates.iter().filter_map(|rate| AnnualRate::of_fraction(*rate).ok());
    let rates: Vec<AnnualRate> = rates.collect();
    let proven = found.proven && rates.len() == found.rates.len();
    Ok(InternalRate { rates, sign_changes: Count::from_usize(found.sign_changes)?, proven })
}

impl CostComparisonAnswer {
    /// The way called `name`.
    #[must_use]
    pub fn way(&self, name: &str) -> Option<&WayCost> {
        self.ways.iter().find(|way| way.name == name)
    }
}
