//! How far a projection may come out otherwise, given the spreads of its inputs.
//!
//! Each uncertain input is drawn evenly from between its value less and plus its
//! spread, each group by itself, and the projection is made anew; P10, P50 and P90
//! are the percentiles of its draws.

use super::accounts::Accounts;
use super::category::GeneratorCategory;
use super::ledger::WasteLedger;
use super::machine::{Factors, Machine, WasteShop};
use super::{CategoryShares, CostBand, MassBand, MonthBands, ProjectionBands};
use super::{Disposal, WasteGroup};
use crate::numerics::distribution::{Distribution, DistributionShape};
use crate::numerics::monte_carlo::{Drawn, percentile};
use crate::quantity::{Count, Quantity, Share};
use crate::text::Refusal;
use crate::uncertainty::Sampler;

/// Where the sampling stands in the request.
pub(super) const SAMPLING: &str = "/sampling";
/// Numbers handled for a month of sumps that are changed together.
const WORK_A_STEP: usize = 4;
/// Numbers kept of a month, and of all of them: mass, counted mass and cost.
const OF_A_MONTH: usize = 3;

/// A factor of mean 1 that may lie as far off as the spread, anywhere alike.
fn factor(spread: Option<Share>) -> Distribution {
    let shape = DistributionShape::Rectangular;
    let u = spread.map_or(0.0, Share::fraction) / shape.half_widths_in_u();
    Distribution { estimate: 1.0, u, shape }
}

impl WasteGroup {
    /// What is drawn for the group, as [`Factors::drawn`] takes it.
    fn uncertain(&self) -> [Distribution; 4] {
        [
            factor(self.losses_spread),
            factor(self.losses_spread),
            factor(self.oil_leak.and_then(|leak| leak.spread)),
            factor(self.fines.and_then(|fines| fines.spread)),
        ]
    }
}

impl Factors {
    fn drawn(numbers: &[f64]) -> Self {
        let at = |place: usize| numbers.get(place).copied().unwrap_or(1.0);
        Self { evaporation: at(0), carry_off: at(1), leak: at(2), fines: at(3) }
    }
}

impl Disposal {
    /// How the spreads are drawn, where a sampling is asked for.
    pub(super) fn sampler(&self) -> Result<Option<Sampler>, Refusal> {
        let Some(sampling) = self.sampling else { return Ok(None) };
        let work = WORK_A_STEP * self.steps();
        let width = OF_A_MONTH * (self.horizon() + 1);
        Sampler::new((sampling.draws, sampling.seed), (work, width), SAMPLING).map(Some)
    }

    /// The bands of every month and of all, where a sampling is asked for.
    pub(super) fn bands(&self, shop: &WasteShop) -> Result<Option<ProjectionBands>, Refusal> {
        let Some(sampler) = self.sampler()? else { return Ok(None) };
        let mut inputs = vec![factor(self.recycler.and_then(|recycler| recycler.spread))];
        inputs.extend(self.groups.iter().flat_map(WasteGroup::uncertain));
        let drawn = sampler.draw(inputs, |x, y| self.drawn(shop, x, y))?;
        let months = self.horizon();
        let each = (0..months).map(|month| self.month_bands(&drawn, month));
        let [mass, counted, cost] = values(&drawn, months);
        Ok(Some(ProjectionBands {
            draws: Count::from_usize(sampler.draws())?,
            months: each.collect::<Result<_, Refusal>>()?,
            mass: MassBand::of(mass)?,
            counted: MassBand::of(counted)?,
            cost: self.has_prices().then(|| CostBand::of(cost)).transpose()?,
        }))
    }

    /// The projection with the drawn factors: mass, counted mass and cost of each month,
    /// and of all of them.
    fn drawn(&self, shop: &WasteShop, x: &[f64], y: &mut Vec<f64>) -> Result<(), Refusal> {
        let (recovered, groups) = x.split_at(1);
        let mut shop = shop.clone();
        let most = 1.0 - shop.recycler.with_oil - shop.recycler.with_sludge;
        shop.recycler.recovered = (shop.recycler.recovered * recovered[0]).min(most);
        let factors = groups.chunks(4).map(Factors::drawn);
        let each = self.groups.iter().enumerate().zip(factors);
        let machines: Vec<Machine> =
            each.map(|((i, group), factors)| Machine::of(group, i, &shop, &factors)).collect();
        let months = self.horizon();
        let mut ledger = WasteLedger::new(months, shop.names.len());
        self.walk(&shop, &machines, &mut ledger)?;
        let accounts = Accounts::without_pickups(self, &ledger);
        let mut all = (0.0, 0.0);
        for month in 0..months {
            let (mass, cost) = (accounts.mass(month), accounts.cost_in(self, month));
            all = (all.0 + mass, all.1 + cost);
            y.extend([mass, accounts.counted.in_month(month), cost]);
        }
        y.extend([all.0, accounts.counted.by_month(months), all.1]);
        Ok(())
    }

    fn month_bands(&self, drawn: &Drawn<Refusal>, month: usize) -> Result<MonthBands, Refusal> {
        let [mass, counted, cost] = values(drawn, month);
        let all = Count::from_usize(counted.len())?.get();
        let in_category = |category| {
            let fall = counted.iter().filter(|mass| GeneratorCategory::of(**mass) == category);
            Share::of_fraction(Count::from_usize(fall.count())?.get() / all)
        };
        Ok(MonthBands {
            month: Count::from_usize(month + 1)?,
            categories: CategoryShares {
                very_small: in_category(GeneratorCategory::VerySmall)?,
                small: in_category(GeneratorCategory::Small)?,
                large: in_category(GeneratorCategory::Large)?,
            },
            mass: MassBand::of(mass)?,
            counted: MassBand::of(counted)?,
            cost: self.has_prices().then(|| CostBand::of(cost)).transpose()?,
        })
    }
}

/// Mass, counted mass and cost of a month in every draw; after the last month, of all.
fn values(drawn: &Drawn<Refusal>, month: usize) -> [Vec<f64>; OF_A_MONTH] {
    [0, 1, 2].map(|number| drawn.values(OF_A_MONTH * month + number))
}

/// P10, P50 and P90.
fn percentiles<Q: Quantity>(mut draws: Vec<f64>) -> Result<[Q; 3], Refusal> {
    let mut at = |p| Q::of(percentile(&mut draws, p));
    Ok([at(0.1)?, at(0.5)?, at(0.9)?])
}

impl MassBand {
    fn of(draws: Vec<f64>) -> Result<Self, Refusal> {
        let [p10, p50, p90] = percentiles(draws)?;
        Ok(Self { p10, p50, p90 })
    }
}

impl CostBand {
    fn of(draws: Vec<f64>) -> Result<Self, Refusal> {
        let [p10, p50, p90] = percentiles(draws)?;
        Ok(Self { p10, p50, p90 })
    }
}
