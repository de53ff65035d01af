//! Ways side by side: yearly costs, paybacks, rates and crossings.

use super::answer::{
    AgainstBaseline, Crossing, InternalRate, PaybackTime, PaybackVerdict, WayCost, YearOfCosts,
};
use super::costs::Costs;
use super::fluid::FluidYear;
use super::{CostComparison, CostComparisonAnswer};
use crate::numerics::money::{self, Payback};
use crate::quantity::{AnnualRate, Count, Money, Quantity, Years};
use crate::text::Refusal;
use std::borrow::Cow;

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
                name: way.name.clone(),
                yearly: own.yearly(rate)?,
                yearly_cost: Money::of(yearly)?,
                yearly_cost_a_machine: Money::of(yearly / self.machine_count())?,
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
    pub(super) fn crossings(&self, costs: &[Costs]) -> Result<Vec<Crossing>, Refusal> {
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
        found.sort_by(|a, b| a.0.total_cmp(&b.0));
        let name = |place: usize| self.ways[place].name.clone();
        let crossings = found.into_iter().map(|(years, after, before)| {
            Ok(Crossing {
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
        saves_a_year: Money::of(own.level(rate, &saves))?,
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
    let percent = found.rates.iter().map(|rate| rate * 100.0);
    let rates: Vec<f64> = percent.filter(|rate| AnnualRate::ROW.admits(*rate)).collect();
    let proven = found.proven && rates.len() == found.rates.len();
    Ok(InternalRate {
        note: note(saves, rates.len(), proven).map(Cow::Borrowed),
        rates: rates.into_iter().map(AnnualRate::of).collect::<Result<_, _>>()?,
        sign_changes: Count::from_usize(found.sign_changes)?,
        proven,
    })
}

/// What to make of rates that are not exactly one.
fn note(saves: &[f64], rates: usize, proven: bool) -> Option<&'static str> {
    if !proven {
        return Some(
            "Two of these rates lie too near each other to be told apart, or a rate lies beyond \
             what can be written, so the number of rates is not proven. Decide by the net present \
             value.",
        );
    }
    let (gains, costs) = (saves.iter().any(|s| *s > 0.0), saves.iter().any(|s| *s < 0.0));
    match rates {
        1 if saves.iter().find(|s| **s != 0.0).is_some_and(|first| *first > 0.0) => Some(
            "It saves first and costs later: this is a rate at which money is borrowed, and it \
             pays where money costs more than this.",
        ),
        1 => None,
        0 if !gains && !costs => Some("It costs the same in every year, so there is no rate."),
        0 if !costs => Some("It never costs more, so there is no rate: it pays at any."),
        0 if !gains => Some("It never saves anything, so there is no rate: it pays at none."),
        0 => Some("Its net present value is nothing at no rate; it has the same sign at all."),
        _ => Some(
            "The savings change sign more than once and there are several such rates, so none of \
             them is the return on the money. Decide by the net present value.",
        ),
    }
}

impl CostComparisonAnswer {
    /// The way called `name`.
    #[must_use]
    pub fn way(&self, name: &str) -> Option<&WayCost> {
        self.ways.iter().find(|way| way.name == name)
    }
}
