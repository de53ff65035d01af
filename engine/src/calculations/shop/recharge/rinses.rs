//! What sumps are rinsed with: a stock drawn at the machine, or a weak mix of the
//! sump's own product that is made for it.

use super::mixed::Mixed;
use super::{Recharge, SumpToClean};
use crate::fluid::Fluid;
use crate::fluid::batch::{self, Wanted};
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::properties::Limits;
use crate::fluid::stock::Stock;
use crate::quantity::{Quantity, Volume};
use crate::sentence;
use crate::text::{Fault, Kind, Refusal};

/// The stocks with what rinsing straight from them leaves.
pub(super) fn after_drawing(round: &Recharge, stocks: &[Stock]) -> Result<Vec<Stock>, Refusal> {
    let mut left = stocks.to_vec();
    for (s, stock) in left.iter_mut().enumerate() {
        let Some(on_hand) = stock.volume else { continue };
        let rinses = round.sumps.iter().filter_map(|sump| sump.rinse.as_ref());
        let rinses = rinses.filter(|rinse| rinse.stock.as_deref() == Some(stock.name.as_str()));
        let drawn: f64 = rinses.map(super::Rinse::in_all).sum();
        if drawn > on_hand.get() {
            let detail = sentence!(
                "Rinsing takes {} of this stock, and {} is on hand. Rinse less, or have more on \
                 hand.",
                Volume::measure_of(drawn),
                on_hand
            );
            return Err(Refusal::new(Kind::Unreachable, format!("/stocks/{s}/volume"), detail));
        }
        stock.volume = Some(Volume::of(on_hand.get() - drawn)?);
    }
    Ok(left)
}

/// A mix for each product and strength that sumps are rinsed with, and what the mixes
/// leave of the stocks.
pub(super) fn mixes(
    round: &Recharge,
    mut left: Vec<Stock>,
) -> Result<(Vec<Mixed>, Vec<Stock>), Refusal> {
    let mut wanted: Vec<(&str, f64, Vec<usize>)> = Vec::new();
    for (i, sump) in round.sumps.iter().enumerate() {
        let Some(strength) = sump.rinse.as_ref().and_then(|rinse| rinse.strength) else { continue };
        let (product, strength) = (sump.product.as_str(), strength.get());
        #[expect(clippy::float_cmp, reason = "what was given as the same number is one mix")]
        let same = |mix: &&mut (&str, f64, Vec<usize>)| mix.0 == product && mix.1 == strength;
        match wanted.iter_mut().find(same) {
            Some((_, _, sumps)) => sumps.push(i),
            None => wanted.push((product, strength, vec![i])),
        }
    }
    let mut mixes = Vec::with_capacity(wanted.len());
    for (product, strength, sumps) in wanted {
        let places = fresh(&left, round.stocks_for(product), strength);
        let own: Vec<Stock> = places.iter().map(|s| left[*s].clone()).collect();
        let volume: f64 = sumps.iter().map(|i| rinsed(&round.sumps[*i])).sum();
        let recipe = batch::recipe(&own, volume, strength, &Limits::default(), None);
        let recipe = recipe.map_err(|refusal| at_the_rinse(refusal, sumps[0]))?;
        let mut pours = vec![0.0; left.len()];
        places.iter().zip(recipe.volumes).for_each(|(s, v)| pours[*s] = v);
        for (stock, poured) in left.iter_mut().zip(&pours) {
            if let Some(on_hand) = stock.volume {
                stock.volume = Some(Volume::of((on_hand.get() - poured).max(0.0))?);
            }
        }
        let batch = Wanted { volume, concentration: strength, stocks: places };
        mixes.push(Mixed::of(round, &left, sumps, batch, pours));
    }
    Ok((mixes, left))
}

/// The stocks to rinse with: concentrate and water, which bring no old fluid along, where
/// they make the mix; else all.
fn fresh(stocks: &[Stock], places: Vec<usize>, strength: f64) -> Vec<usize> {
    let concentration = |s: &usize| stocks[*s].concentration.get();
    let fresh: Vec<usize> = places
        .iter()
        .copied()
        .filter(|s| concentration(s) <= 0.0 || concentration(s) > PREMIX_AT_MOST)
        .collect();
    let low = fresh.iter().map(concentration).fold(f64::INFINITY, f64::min);
    let high = fresh.iter().map(concentration).fold(0.0, f64::max);
    if (low..=high).contains(&strength) { fresh } else { places }
}

/// What goes into a sump, rinse by rinse.
pub(super) fn of_sump(
    round: &Recharge,
    stocks: &[Stock],
    mixes: &[Mixed],
    place: usize,
) -> Vec<Fluid> {
    let Some(rinse) = &round.sumps[place].rinse else { return Vec::new() };
    let volume = rinse.volume.get();
    let drawn = stocks.iter().find(|stock| rinse.stock.as_deref() == Some(stock.name.as_str()));
    let mixed = || mixes.iter().find(|mix| mix.sumps.contains(&place));
    let poured = drawn
        .map(|stock| stock.fluid(volume))
        .or_else(|| mixed().map(|mix| mix.fluid.clone() * (volume / mix.fluid.volume)));
    poured.into_iter().cycle().take(rinse.whole_times()).collect()
}

/// What a sump is rinsed with, all times together, L.
fn rinsed(sump: &SumpToClean) -> f64 {
    sump.rinse.as_ref().map_or(0.0, super::Rinse::in_all)
}

/// What no mix does, said of the first sump that is to be rinsed with it.
fn at_the_rinse(refusal: Refusal, sump: usize) -> Refusal {
    let faults = refusal.faults.into_iter().map(|fault| {
        let target = fault.pointer.starts_with("/target");
        let own = format!("/sumps/{sump}/rinse/strength");
        let pointer = if target { own } else { fault.pointer };
        Fault { pointer, detail: sentence!("Mix to rinse with: {}", fault.detail) }
    });
    Refusal { faults: faults.collect(), reachable: refusal.reachable, kind: refusal.kind }
}
