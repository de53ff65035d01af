//! The batches of a round: which sumps share one, and how strong it is.

use super::dilution::Cleaned;
use super::mixed::{Mixed, mixed};
use super::{Recharge, SumpToClean};
use crate::calculations::blend::Wanted;
use crate::quantity::{Concentration, Quantity, Volume};
use crate::refusal::{Kind, Reachable, Refusal, concentration_range};
use crate::sentence::{Measure, Sentence, round_to};
use crate::stock::Stock;

/// By how many points refills may differ when nobody says.
pub(super) const USUAL_TOLERANCE: f64 = 0.2;
/// Points of strength below which two strengths are the same, rounding apart.
const SAME: f64 = 1e-9;

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
    let detail = "With what the residue of {} brings along, the refill would have to be {} to come to \
                  {}, and the stocks make {} {}, which brings it to {}. {}";
    let measure = |c| Measure::of(Concentration::ROW, c);
    let detail = Sentence::new(detail)
        .say(sump.name.clone())
        .with(measure(cleaned.c_b))
        .with(sump.target.measure())
        .say(side)
        .with(measure(bound))
        .with(measure(comes_to))
        .say(mend);
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
