//! The premixes of a round: what goes into each, and which sumps get it.

use super::TopUpRound;
use super::answer::{PremixShare, PremixToMake, RoundStockUse};
use super::product_plan::ProductPlan;
use crate::fluid::batch::{self, Wanted};
use crate::fluid::properties::Limits;
use crate::fluid::stock::Stock;
use crate::fluid::{Fluid, parts_of_water};
use crate::numerics::order;
use crate::numerics::packing::{fits, portions};
use crate::quantity::{Concentration, Count, Money, Quantity, Volume};
use crate::sentence;
use crate::text::{Fault, Name, Refusal};

/// A premix, made.
#[derive(Debug, Clone)]
pub(super) struct PremixMade {
    pub(super) product: Name,
    /// Its strength, % by volume.
    pub(super) strength: f64,
    /// The places of the sumps that get it, and what each gets, L.
    pub(super) pours: Vec<(usize, f64)>,
    /// Litres of each stock of the round.
    pub(super) stocks: Vec<f64>,
    /// All of it, with what the stocks brought along.
    pub(super) fluid: Fluid,
}

/// The plan of a product, with the places of its sumps.
pub(super) struct PlannedProduct {
    pub(super) sumps: Vec<usize>,
    pub(super) plan: ProductPlan,
}

impl TopUpRound {
    /// All premixes of the round, product by product, the weakest first.
    pub(super) fn premixes(&self, planned: &[PlannedProduct]) -> Result<Vec<PremixMade>, Refusal> {
        let mut wanted: Vec<(Vec<(usize, f64)>, Wanted)> = Vec::new();
        for PlannedProduct { sumps, plan } in planned {
            let product = &self.sumps[sumps[0]].product;
            for strength in plan.strengths() {
                let pours = plan.pours.iter().zip(sumps).filter_map(|(pour, i)| {
                    pour.filter(|pour| pour.strength == strength).map(|pour| (*i, pour.litres))
                });
                let pours: Vec<(usize, f64)> = pours.collect();
                let volume = pours.iter().map(|(_, litres)| litres).sum();
                let stocks = self.stocks_for(product);
                wanted.push((pours, Wanted { volume, concentration: strength, stocks }));
            }
        }
        let stocks = self.plain_stocks();
        let shares = mixed(&stocks, &wanted)?;
        let made = wanted.into_iter().zip(shares).map(|((pours, wanted), shares)| {
            let mut fluid = Fluid::default();
            stocks.iter().zip(&shares).for_each(|(stock, v)| fluid += &stock.fluid(*v));
            fluid.volume = wanted.volume;
            fluid.concentrate = wanted.volume * wanted.concentration / 100.0;
            PremixMade {
                product: self.sumps[pours[0].0].product.clone(),
                strength: wanted.concentration,
                pours,
                stocks: shares,
                fluid,
            }
        });
        Ok(made.collect())
    }

    /// Into how many equal mixes a premix is split.
    pub(super) fn mixes(&self, premix: &PremixMade) -> f64 {
        let holds = self.mixing.as_ref().and_then(|mixing| mixing.holds);
        portions(premix.fluid.volume, holds.map_or(f64::INFINITY, Quantity::get)).max(1.0)
    }

    pub(super) fn premix_to_make(&self, premix: &PremixMade) -> Result<PremixToMake, Refusal> {
        let concentration = Concentration::of(premix.strength)?;
        let settings = self.mixing.as_ref().and_then(|mixing| mixing.settings.as_ref());
        let setting = settings.and_then(|all| all.iter().position(|c| c.get() == premix.strength));
        let read = premix.pours.iter().find_map(|(i, _)| self.sumps[*i].sump.reading.as_ref());
        let take = self.stocks.iter().zip(&premix.stocks).filter(|(_, v)| **v > 0.0);
        let take = take.map(|(stock, v)| {
            Ok(PremixShare { name: stock.name.clone(), volume: Volume::of(*v)? })
        });
        Ok(PremixToMake {
            product: premix.product.clone(),
            concentration,
            parts_of_water: parts_of_water(premix.strength),
            setting: setting.map(|place| Count::from_usize(place + 1)).transpose()?,
            mark: read.and_then(|reading| reading.mark(concentration, "/sumps").ok()),
            volume: Volume::of(premix.fluid.volume)?,
            mixes: Count::of(self.mixes(premix))?,
            take: take.collect::<Result<_, Refusal>>()?,
            sumps: premix.pours.iter().map(|(i, _)| self.sumps[*i].name.to_string()).collect(),
        })
    }

    /// What all premixes use of each stock.
    pub(super) fn stocks_used(&self, made: &[PremixMade]) -> Result<Vec<RoundStockUse>, Refusal> {
        let used = self.stocks.iter().enumerate().map(|(s, stock)| {
            let used: f64 = made.iter().map(|premix| premix.stocks[s]).sum();
            let left = stock.volume.map(|on_hand| (on_hand.get() - used).max(0.0));
            Ok(RoundStockUse {
                name: stock.name.clone(),
                volume: Volume::of(used)?,
                left: left.map(Volume::of).transpose()?,
            })
        });
        used.collect()
    }

    /// What the stocks cost, where any has a price.
    pub(super) fn cost(&self, made: &[PremixMade]) -> Result<Option<Money>, Refusal> {
        if self.stocks.iter().all(|stock| stock.unit_cost.is_none()) {
            return Ok(None);
        }
        let price = |s: usize| self.stocks[s].unit_cost.map_or(0.0, Quantity::get);
        let of = |premix: &PremixMade| {
            premix.stocks.iter().enumerate().map(|(s, v)| price(s) * v).sum::<f64>()
        };
        Ok(Some(Money::of(made.iter().map(of).sum())?))
    }
}

impl PremixMade {
    /// The stocks that go into it, the weakest first: the place of each and its litres.
    pub(super) fn takes(&self, stocks: &[Stock]) -> Vec<(usize, f64)> {
        let all = self.stocks.iter().copied().enumerate();
        let mut used: Vec<(usize, f64)> = all.filter(|(_, v)| *v > 0.0).collect();
        order::least_first(&mut used, |(s, _)| stocks[*s].concentration.get());
        used
    }
}

/// Litres of each stock for each premix: each by itself where the stocks suffice for all, else
/// all together.
fn mixed(
    stocks: &[Stock],
    wanted: &[(Vec<(usize, f64)>, Wanted)],
) -> Result<Vec<Vec<f64>>, Refusal> {
    let limits = Limits::default();
    let mut shares = Vec::with_capacity(wanted.len());
    for (_, premix) in wanted {
        let own: Vec<Stock> = premix.stocks.iter().map(|s| stocks[*s].clone()).collect();
        let recipe = batch::recipe(&own, premix.volume, premix.concentration, &limits, None);
        let recipe = recipe.map_err(|refusal| of_premix(refusal, premix))?;
        let mut pours = vec![0.0; stocks.len()];
        premix.stocks.iter().zip(recipe.volumes).for_each(|(s, v)| pours[*s] = v);
        // A billionth of the whole is rounding, and nobody is to pour it.
        pours.iter_mut().filter(|v| **v < 1e-9 * premix.volume).for_each(|v| *v = 0.0);
        shares.push(pours);
    }
    let taken = |s: usize| shares.iter().map(|pours| pours[s]).sum::<f64>();
    if stocks.iter().enumerate().all(|(s, stock)| fits(taken(s), stock.on_hand())) {
        return Ok(shares);
    }
    let all: Vec<Wanted> = wanted.iter().map(|(_, premix)| premix.clone()).collect();
    batch::share_out(stocks, &all, &limits, None)
}

/// What no mix does, said of the premix.
fn of_premix(refusal: Refusal, premix: &Wanted) -> Refusal {
    let faults = refusal.faults.into_iter().map(|fault| Fault {
        pointer: "/stocks".to_owned(),
        detail: sentence!(
            "The round takes {} of premix at {}: {}",
            Volume::measure_of(premix.volume).rounded(3),
            Concentration::measure_of(premix.concentration).rounded(3),
            fault.detail
        ),
    });
    Refusal { faults: faults.collect(), kind: refusal.kind, reachable: None }
}
