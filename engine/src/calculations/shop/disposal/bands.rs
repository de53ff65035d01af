//! How far a projection may come out otherwise, given the spreads of its inputs.
//!
//! Each uncertain input is drawn evenly from between its value less and plus its
//! spread, each group for itself, and the projection is made anew; P10, P50 and P90
//! are the percentiles of its draws (the median-unbiased estimate, R's type 8).

use super::accounts::Accounts;
use super::category::GeneratorCategory;
use super::ledger::Ledger;
use super::machine::{Factors, Machine, Shop};
use super::sumps::WasteGroup;
use super::track::count;
use super::{Disposal, share};
use crate::numerics::cut_off::look;
use crate::quantity::{Count, Mass, Money, Quantity, Share};
use crate::text::Refusal;
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64;
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use statrs::statistics::{Data, OrderStatistics};
use utoipa::ToSchema;

/// How far a projection may come out otherwise.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct ProjectionBands {
    /// A month after the other. Where changes fall by forecast or spreads are wide,
    /// the draws may have a change in another month than the answer has.
    pub months: Vec<MonthBands>,
    /// Mass of all streams over all months.
    pub mass: MassBand,
    /// Mass of the streams that count over all months.
    pub counted: MassBand,
    /// What it costs over all months, without pickups; absent where no price is given.
    pub cost: Option<CostBand>,
}

/// How far a month may come out otherwise.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MonthBands {
    /// The month, counted from 1.
    pub month: Count,
    /// Mass of all streams together.
    pub mass: MassBand,
    /// Mass of the streams that count.
    pub counted: MassBand,
    /// What the month costs, without pickups; absent where no price is given.
    pub cost: Option<CostBand>,
    /// How many of the draws fall in each generator category.
    pub categories: CategoryShares,
}

/// A tenth of the draws lie below the first, half below the second, nine tenths
/// below the third.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct MassBand {
    /// Tenth percentile.
    pub p10: Mass,
    /// Median.
    pub p50: Mass,
    /// Ninetieth percentile.
    pub p90: Mass,
}

/// The same of money.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CostBand {
    /// Tenth percentile.
    pub p10: Money,
    /// Median.
    pub p50: Money,
    /// Ninetieth percentile.
    pub p90: Money,
}

/// How many of the draws put the month into each generator category.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
pub struct CategoryShares {
    /// Very small.
    pub very_small: Share,
    /// Small.
    pub small: Share,
    /// Large.
    pub large: Share,
}

/// Draws when the request does not say how many.
pub(super) const DRAWS: usize = 1000;

impl WasteGroup {
    fn draw(&self, rng: &mut Pcg64) -> Factors {
        let mut factor = |spread: Option<Share>| {
            let spread = spread.map_or(0.0, share);
            let up_or_down: f64 = rng.random::<f64>() * 2.0 - 1.0;
            1.0 + spread * up_or_down
        };
        Factors {
            evaporation: factor(self.losses_spread),
            carry_off: factor(self.losses_spread),
            leak: factor(self.oil_leak.and_then(|leak| leak.spread)),
            fines: factor(self.fines.and_then(|fines| fines.spread)),
        }
    }
}

impl Disposal {
    /// The bands of every month and of all, where a sampling is asked for.
    pub(super) fn bands(&self, shop: &mut Shop) -> Result<Option<ProjectionBands>, Refusal> {
        let Some(sampling) = self.sampling else { return Ok(None) };
        let draws = self.draws();
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a count is whole and not negative"
        )]
        let mut rng = Pcg64::seed_from_u64(sampling.seed.get() as u64);
        let months = self.horizon();
        let mut drawn = vec![Drawn::default(); months];
        let mut overall = Drawn::default();
        let plain = shop.recycler;
        let mut ledger = Ledger::new(months, shop.names.len());
        for _ in 0..draws {
            look();
            shop.recycler = plain;
            if let Some(recycler) = &self.recycler {
                let spread = recycler.spread.map_or(0.0, share);
                let factor = 1.0 + spread * (rng.random::<f64>() * 2.0 - 1.0);
                let most = 1.0 - plain.with_oil - plain.with_sludge;
                shop.recycler.recovered = (plain.recovered * factor).min(most);
            }
            let machines: Vec<Machine> = self
                .groups
                .iter()
                .enumerate()
                .map(|(i, group)| Machine::of(group, i, shop, &group.draw(&mut rng)))
                .collect();
            ledger.clear();
            self.walk(shop, &machines, &mut ledger)?;
            let accounts = Accounts::without_pickups(self, &ledger);
            let mut all = (0.0, 0.0);
            for (month, drawn) in drawn.iter_mut().enumerate() {
                let (mass, cost) = (accounts.mass(month), accounts.cost_in(self, month));
                all = (all.0 + mass, all.1 + cost);
                drawn.push(mass, accounts.counted.in_month(month), cost);
            }
            overall.push(all.0, accounts.counted.by_month(months), all.1);
        }
        shop.recycler = plain;
        let priced = self.has_prices();
        let bands = drawn.into_iter().enumerate();
        Ok(Some(ProjectionBands {
            months: bands
                .map(|(month, drawn)| drawn.bands(month, priced))
                .collect::<Result<_, _>>()?,
            mass: MassBand::of(overall.mass)?,
            counted: MassBand::of(overall.counted)?,
            cost: priced.then(|| CostBand::of(overall.cost)).transpose()?,
        }))
    }
}

/// A month, or all of them, in every draw.
#[derive(Debug, Clone, Default)]
struct Drawn {
    mass: Vec<f64>,
    counted: Vec<f64>,
    cost: Vec<f64>,
}

impl Drawn {
    fn push(&mut self, mass: f64, counted: f64, cost: f64) {
        self.mass.push(mass);
        self.counted.push(counted);
        self.cost.push(cost);
    }

    fn bands(self, month: usize, priced: bool) -> Result<MonthBands, Refusal> {
        let all = count(self.counted.len());
        let in_category = |category| {
            let fall = self.counted.iter().filter(|mass| GeneratorCategory::of(**mass) == category);
            Share::of(count(fall.count()) / all * 100.0)
        };
        let categories = CategoryShares {
            very_small: in_category(GeneratorCategory::VerySmall)?,
            small: in_category(GeneratorCategory::Small)?,
            large: in_category(GeneratorCategory::Large)?,
        };
        Ok(MonthBands {
            month: Count::of(count(month + 1))?,
            mass: MassBand::of(self.mass)?,
            counted: MassBand::of(self.counted)?,
            cost: priced.then(|| CostBand::of(self.cost)).transpose()?,
            categories,
        })
    }
}

/// P10, P50 and P90.
fn percentiles<Q: Quantity>(draws: Vec<f64>) -> Result<[Q; 3], Refusal> {
    let mut data = Data::new(draws);
    Ok([Q::of(data.percentile(10))?, Q::of(data.percentile(50))?, Q::of(data.percentile(90))?])
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
