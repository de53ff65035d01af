//! The batches of a round: which sumps share one, how strong it is, and what
//! goes into it.

use super::dilution::Cleaned;
use super::{Batch, Recharge, SumpToClean};
use crate::calculations::blend::{self, Take, Wanted};
use crate::fluid::{Fluid, ratio};
use crate::numerics::packing::fits;
use crate::quantity::{Concentration, Mass, Money, Parts, Quantity, Share, Volume};
use crate::refusal::{Fault, Kind, Reachable, Refusal, concentration_range};
use crate::sentence::{Measure, Sentence, round_to};
use crate::stock::{Stock, escape};

/// By how many points refills may differ when nobody says.
pub(super) const USUAL_TOLERANCE: f64 = 0.2;
/// Points of strength below which two strengths are the same, rounding apart.
const SAME: f64 = 1e-9;

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

/// Sorts the sumps into batches and mixes them.
pub(super) fn batches(
    round: &Recharge,
    stocks: &[Stock],
    cleaned: &[Cleaned],
) -> Result<Vec<Mixed>, Refusal> {
    let strengths = strengths(round, cleaned)?;
    let left = after_flushing(round, stocks)?;
    let mut wanted = Vec::new();
    for product in round.products() {
        for sumps in shared(round, product, &strengths) {
            let of_batch = || sumps.iter().map(|i| strengths[*i]);
            let low = of_batch().fold(f64::INFINITY, f64::min);
            let high = of_batch().fold(0.0, f64::max);
            /// Digits beyond what binary fractions add.
            const CLEAN: i32 = 12;
            let batch = Wanted {
                volume: sumps.iter().map(|i| cleaned[*i].refill()).sum(),
                concentration: round_to(f64::midpoint(low, high), CLEAN).clamp(low, high),
                stocks: round.stocks_for(product),
            };
            wanted.push((sumps, batch));
        }
    }
    mixed(round, &left, wanted)
}

/// The strength of each sump's refill; refused where no refill does it.
fn strengths(round: &Recharge, cleaned: &[Cleaned]) -> Result<Vec<f64>, Refusal> {
    let mut refusal = Refusal { kind: Kind::Unreachable, faults: Vec::new(), reachable: None };
    let mut strengths = Vec::with_capacity(cleaned.len());
    for (i, (sump, cleaned)) in round.sumps.iter().zip(cleaned).enumerate() {
        let stocks = round.stocks_for(&sump.product);
        let concentrations = || stocks.iter().map(|s| round.stocks[*s].concentration.get());
        let low = concentrations().fold(f64::INFINITY, f64::min);
        let high = concentrations().fold(0.0, f64::max);
        if !(low - SAME..=high + SAME).contains(&cleaned.c_b) {
            let alone = unreachable(i, sump, cleaned, low, high)?;
            refusal.faults.extend(alone.faults);
            refusal.reachable = alone.reachable;
        }
        strengths.push(cleaned.c_b.clamp(low, high));
    }
    match refusal.faults.len() {
        0 => Ok(strengths),
        1 => Err(refusal),
        // What can be reached is said of each sump in its own sentence.
        _ => Err(Refusal { reachable: None, ..refusal }),
    }
}

fn unreachable(
    i: usize,
    sump: &SumpToClean,
    cleaned: &Cleaned,
    low: f64,
    high: f64,
) -> Result<Refusal, Refusal> {
    let (side, mend) = if cleaned.c_b > high {
        ("at most", "Lower the target, leave less residue, or flush with something stronger.")
    } else {
        ("at least", "Raise the target, leave less residue, or flush it with water.")
    };
    let (weakest, strongest) = (cleaned.comes_to(low), cleaned.comes_to(high));
    let (bound, comes_to) = if cleaned.c_b > high { (high, strongest) } else { (low, weakest) };
    let detail = format!(
        "With what the residue of {} brings along, the refill would have to be {{}} to come to \
         {{}}, and the stocks make {side} {{}}, which brings it to {{}}. {mend}",
        escape(&sump.name)
    );
    let measure = |c| Measure::of(Concentration::ROW, c);
    let detail = Sentence::new(detail)
        .with(measure(cleaned.c_b))
        .with(sump.target.measure())
        .with(measure(bound))
        .with(measure(comes_to));
    let concentration = Some(concentration_range(weakest, strongest)?);
    Ok(Refusal::new(Kind::Unreachable, format!("/sumps/{i}/target"), detail)
        .reachable(Reachable { concentration, volume: None }))
}

/// The stocks with what the flushes leave of them.
fn after_flushing(round: &Recharge, stocks: &[Stock]) -> Result<Vec<Stock>, Refusal> {
    let mut left = stocks.to_vec();
    for (s, stock) in left.iter_mut().enumerate() {
        let Some(on_hand) = stock.volume else { continue };
        let flushes = round.sumps.iter().filter_map(|sump| sump.flush.as_ref());
        let flushes = flushes.filter(|flush| flush.stock == stock.name);
        let flushed: f64 = flushes.map(|flush| flush.volume.get() * flush.times.get()).sum();
        if flushed > on_hand.get() {
            let detail = "Flushing takes {} of this stock, and {} is on hand. Flush less, or have \
                          more on hand.";
            let detail = Sentence::new(detail)
                .with(Measure::of(Volume::ROW, flushed))
                .with(on_hand.measure());
            return Err(Refusal::new(Kind::Unreachable, format!("/stocks/{s}/volume"), detail));
        }
        stock.volume = Some(Volume::of(on_hand.get() - flushed)?);
    }
    Ok(left)
}

/// The sumps of `product`, those together that may share a batch. Starting from
/// the weakest, each batch takes all that lie within the tolerance of its first,
/// which makes as few batches as can be.
fn shared(round: &Recharge, product: &str, strengths: &[f64]) -> Vec<Vec<usize>> {
    let tolerance = round.strength_tolerance.map_or(USUAL_TOLERANCE, Quantity::get);
    let mut sumps: Vec<usize> =
        (0..strengths.len()).filter(|i| round.sumps[*i].product == product).collect();
    sumps.sort_by(|a, b| strengths[*a].total_cmp(&strengths[*b]));
    let weakest_first = |a: &usize, b: &usize| strengths[*b] - strengths[*a] <= tolerance + SAME;
    let mut batches: Vec<Vec<usize>> = Vec::new();
    for i in sumps {
        match batches.last_mut() {
            Some(batch) if weakest_first(&batch[0], &i) => batch.push(i),
            _ => batches.push(vec![i]),
        }
    }
    batches.iter_mut().for_each(|batch| batch.sort_unstable());
    batches
}

/// Each batch by itself where the stocks suffice for all, else all together.
fn mixed(
    round: &Recharge,
    left: &[Stock],
    wanted: Vec<(Vec<usize>, Wanted)>,
) -> Result<Vec<Mixed>, Refusal> {
    let mut refusal = Refusal { kind: Kind::Unreachable, faults: Vec::new(), reachable: None };
    let mut batches = Vec::with_capacity(wanted.len());
    for (sumps, batch) in &wanted {
        let own: Vec<Stock> = batch.stocks.iter().map(|s| left[*s].clone()).collect();
        let (v, c) = (batch.volume, batch.concentration);
        match blend::recipe(&own, v, c, &round.limits, round.goal.as_ref()) {
            Ok(recipe) => {
                let mut pours = vec![0.0; left.len()];
                batch.stocks.iter().zip(recipe.volumes).for_each(|(s, v)| pours[*s] = v);
                batches.push(pours);
            }
            Err(alone) if alone.kind == Kind::Unreachable => {
                refusal.reachable = alone.reachable;
                let first = &round.sumps[sumps[0]];
                let subject = format!("Batch of {} for {}", first.product, first.name);
                refusal.faults.extend(alone.faults.into_iter().map(|fault| {
                    let target = fault.pointer.starts_with("/target");
                    let own = format!("/sumps/{}/target", sumps[0]);
                    let pointer = if target { own } else { fault.pointer };
                    Fault { pointer, detail: fault.detail.about(&subject) }
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
        batches = blend::share_out(left, &all, &round.limits, round.goal.as_ref())?;
    }
    let mixes = wanted.into_iter().zip(batches);
    Ok(mixes.map(|((sumps, batch), pours)| Mixed::of(round, left, sumps, batch, pours)).collect())
}

impl Mixed {
    fn of(
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
            product: round.sumps[sumps[0]].product.clone(),
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
        used.sort_by(|(a, _), (b, _)| a.concentration.get().total_cmp(&b.concentration.get()));
        used
    }

    pub(super) fn answer(&self, round: &Recharge, stocks: &[Stock]) -> Result<Batch, Refusal> {
        let v_b = self.fluid.volume;
        let own: Vec<Stock> = self.stocks.iter().map(|s| stocks[*s].clone()).collect();
        let parts = blend::parts(&own, self.concentration);
        let take = self.stocks.iter().enumerate().map(|(place, s)| {
            let fluid = stocks[*s].fluid(self.pours[*s]);
            Ok(Take {
                name: stocks[*s].name.clone(),
                volume: Volume::of(fluid.volume)?,
                mass: Mass::of(fluid.mass)?,
                share: Share::of((fluid.volume / v_b * 100.0).min(100.0))?,
                parts: parts.map(|parts| Parts::of(parts[place])).transpose()?,
            })
        });
        Ok(Batch {
            product: self.product.clone(),
            concentration: Concentration::of(self.concentration)?,
            ratio: ratio(self.concentration),
            volume: Volume::of(v_b)?,
            take: take.collect::<Result<_, _>>()?,
            properties: self.fluid.properties()?,
            sumps: self.sumps.iter().map(|i| round.sumps[*i].name.clone()).collect(),
        })
    }
}

/// What all batches cost, when any stock has a cost.
pub(super) fn cost(stocks: &[Stock], batches: &[Mixed]) -> Result<Option<Money>, Refusal> {
    if stocks.iter().all(|stock| stock.unit_cost.is_none()) {
        return Ok(None);
    }
    let unit_cost = |s: usize| stocks[s].unit_cost.map_or(0.0, Quantity::get);
    let of =
        |batch: &Mixed| batch.pours.iter().enumerate().map(|(s, v)| unit_cost(s) * v).sum::<f64>();
    Money::of(batches.iter().map(of).sum()).map(Some)
}
