//! Batches that are mixed: what goes into each, and what they cost.

use super::{Recharge, RoundBatch};
use crate::fluid::batch::{self, Take, Wanted};
use crate::fluid::stock::Stock;
use crate::fluid::{Fluid, parts_of_water};
use crate::numerics::order;
use crate::numerics::packing::{fits, portions};
use crate::quantity::{Brix, Concentration, Count, Mass, Money, Parts, Quantity, Share, Volume};
use crate::sentence;
use crate::text::{Fault, Kind, Refusal};

/// A batch, mixed.
pub(super) struct Mixed {
    pub(super) product: String,
    /// Its strength, % by volume.
    pub(super) concentration: f64,
    /// The places of the sumps that it fills.
    pub(super) sumps: Vec<usize>,
    /// The places of the stocks that may go into it.
    stocks: Vec<usize>,
    /// Litres of each stock of the round.
    pub(super) pours: Vec<f64>,
    /// The batch as it was asked for, with what the stocks brought along.
    pub(super) fluid: Fluid,
}

/// Each batch by itself where the stocks suffice for all, else all together.
pub(super) fn mixed(
    round: &Recharge,
    left: &[Stock],
    wanted: Vec<(Vec<usize>, Wanted)>,
) -> Result<Vec<Mixed>, Refusal> {
    let mut refusal = Refusal { kind: Kind::Unreachable, faults: Vec::new(), reachable: None };
    let mut batches = Vec::with_capacity(wanted.len());
    for (sumps, batch) in &wanted {
        let own: Vec<Stock> = batch.stocks.iter().map(|s| left[*s].clone()).collect();
        let (v, c) = (batch.volume, batch.concentration);
        match batch::recipe(&own, v, c, &round.limits, round.goal.as_ref()) {
            Ok(recipe) => {
                let mut pours = vec![0.0; left.len()];
                batch.stocks.iter().zip(recipe.volumes).for_each(|(s, v)| pours[*s] = v);
                batches.push(pours);
            }
            Err(alone) if alone.kind == Kind::Unreachable => {
                refusal.reachable = alone.reachable;
                let first = &round.sumps[sumps[0]];
                refusal.faults.extend(alone.faults.into_iter().map(|fault| {
                    let target = fault.pointer.starts_with("/target");
                    let own = format!("/sumps/{}/target", sumps[0]);
                    let pointer = if target { own } else { fault.pointer };
                    let detail = sentence!(
                        "Batch of {} for {}: {}",
                        &first.product,
                        &first.name,
                        fault.detail
                    );
                    Fault { pointer, detail }
                }));
            }
            Err(alone) => return Err(alone),
        }
    }
    if batches.len() < wanted.len() {
        let several = wanted.len() - batches.len() > 1;
        let reachable = if several { None } else { refusal.reachable };
        return Err(Refusal { reachable, ..refusal });
    }
    let taken = |s: usize| batches.iter().map(|pours| pours[s]).sum::<f64>();
    if !left.iter().enumerate().all(|(s, stock)| fits(taken(s), stock.on_hand())) {
        let all: Vec<Wanted> = wanted.iter().map(|(_, batch)| batch.clone()).collect();
        batches = batch::share_out(left, &all, &round.limits, round.goal.as_ref())?;
    }
    let mixes = wanted.into_iter().zip(batches);
    Ok(mixes.map(|((sumps, batch), pours)| Mixed::of(round, left, sumps, batch, pours)).collect())
}

impl Mixed {
    pub(super) fn of(
        round: &Recharge,
        stocks: &[Stock],
        sumps: Vec<usize>,
        batch: Wanted,
        pours: Vec<f64>,
    ) -> Self {
        let mut fluid = Fluid::default();
        for s in &batch.stocks {
            fluid += &stocks[*s].fluid(pours[*s]);
        }
        fluid.volume = batch.volume;
        fluid.concentrate = batch.volume * batch.concentration / 100.0;
        Self {
            product: round.sumps[sumps[0]].product.to_string(),
            concentration: batch.concentration,
            sumps,
            stocks: batch.stocks,
            pours,
            fluid,
        }
    }

    /// The stocks that go into it, the weakest first, and how much of each.
    pub(super) fn poured<'a>(&'a self, stocks: &'a [Stock]) -> Vec<(&'a Stock, f64)> {
        let used = self.stocks.iter().map(|s| (&stocks[*s], self.pours[*s]));
        let mut used: Vec<_> = used.filter(|(_, v)| *v > 0.0).collect();
        order::least_first(&mut used, |(stock, _)| stock.concentration.get());
        used
    }

    /// Into how many equal mixes it is split, so that each goes into its vessel.
    pub(super) fn mixes(&self, round: &Recharge) -> f64 {
        let most = round.batch_at_most.map_or(f64::INFINITY, Quantity::get);
        portions(self.fluid.volume, most).max(1.0)
    }

    /// What the refractometer must read, where the factor of its fluid is known and
    /// the scale reaches so far.
    pub(super) fn mark(&self, round: &Recharge) -> Option<Brix> {
        round.factor(&self.product).and_then(|f| Brix::of(self.concentration / f).ok())
    }

    pub(super) fn answer(&self, round: &Recharge, stocks: &[Stock]) -> Result<RoundBatch, Refusal> {
        let v_b = self.fluid.volume;
        let own: Vec<Stock> = self.stocks.iter().map(|s| stocks[*s].clone()).collect();
        let parts = batch::parts(&own, self.concentration);
        let take = self.stocks.iter().enumerate().map(|(place, s)| {
            let fluid = stocks[*s].fluid(self.pours[*s]);
            Ok(Take {
                name: stocks[*s].name.to_string(),
                volume: Volume::of(fluid.volume)?,
                mass: Mass::of(fluid.mass)?,
                share: Share::of_fraction((fluid.volume / v_b).min(1.0))?,
                parts: parts.map(|parts| Parts::of(parts[place])).transpose()?,
            })
        });
        Ok(RoundBatch {
            product: self.product.clone(),
            concentration: Concentration::of(self.concentration)?,
            parts_of_water: parts_of_water(self.concentration),
            mark: self.mark(round),
            volume: Volume::of(v_b)?,
            mixes: Count::of(self.mixes(round))?,
            take: take.collect::<Result<_, Refusal>>()?,
            properties: self.fluid.properties()?,
            sumps: self.sumps.iter().map(|i| round.sumps[*i].name.to_string()).collect(),
        })
    }
}

/// What all of them cost, when any stock has a cost.
pub(super) fn cost<'a>(
    stocks: &[Stock],
    batches: impl Iterator<Item = &'a Mixed>,
) -> Result<Option<Money>, Refusal> {
    if stocks.iter().all(|stock| stock.unit_cost.is_none()) {
        return Ok(None);
    }
    let unit_cost = |s: usize| stocks[s].unit_cost.map_or(0.0, Quantity::get);
    let of =
        |batch: &Mixed| batch.pours.iter().enumerate().map(|(s, v)| unit_cost(s) * v).sum::<f64>();
    Ok(Some(Money::of(batches.map(of).sum())?))
}
