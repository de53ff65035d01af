//! The batches of a round: which sumps share one, and how strong it is.

use super::dilution::Cleaned;
use super::mixed::{Mixed, mixed};
use super::{Recharge, SumpToClean};
use crate::fluid::batch::Wanted;
use crate::fluid::properties::FOLLOWED_MOST;
use crate::fluid::stock::Stock;
use crate::numerics::digits::round_to;
use crate::numerics::order;
use crate::quantity::{Concentration, Measure, Quantity};
use crate::sentence;
use crate::text::{Kind, Reachable, Refusal, concentration_range};

/// By how many points refills may differ when nobody says.
pub(super) const USUAL_TOLERANCE: f64 = 0.2;
/// Points of strength below which two strengths are the same, rounding apart.
const SAME: f64 = 1e-9;

/// Sorts the sumps into batches and mixes them of what rinsing leaves of the stocks.
pub(super) fn batches(
    round: &Recharge,
    left: &[Stock],
    cleaned: &[Cleaned],
) -> Result<Vec<Mixed>, Refusal> {
    let strengths = strengths(round, cleaned)?;
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
    check_room(&wanted)?;
    mixed(round, left, wanted)
}

/// Refuses more batches, times the stocks of each, than an answer has room for.
fn check_room(wanted: &[(Vec<usize>, Wanted)]) -> Result<(), Refusal> {
    let lines: usize = wanted.iter().map(|(_, batch)| batch.stocks.len()).sum();
    if lines <= FOLLOWED_MOST {
        return Ok(());
    }
    let detail = sentence!(
        "These sumps need {} batches, and what each takes of each of its stocks comes to {} lines, more than \
         the {} that an answer has room for. Let refills differ by more, plan fewer sumps at a time, or \
         leave out stocks.",
        Measure::bare(count(wanted.len())),
        Measure::bare(count(lines)),
        Measure::bare(count(FOLLOWED_MOST))
    );
    Err(Refusal::new(Kind::OutOfRange, "/strength_tolerance", detail))
}

/// Things as a number to say.
#[expect(clippy::cast_precision_loss, reason = "there are far fewer than 2^53")]
const fn count(things: usize) -> f64 {
    things as f64
}

/// The strength of each sump's refill; refused where no refill does it.
fn strengths(round: &Recharge, cleaned: &[Cleaned]) -> Result<Vec<f64>, Refusal> {
    let mut refusal = Refusal { kind: Kind::Unreachable, faults: Vec::new(), reachable: None };
    let mut strengths = Vec::with_capacity(cleaned.len());
    for (i, (sump, cleaned)) in round.sumps.iter().zip(cleaned).enumerate() {
        let stocks = round.stocks_for(&sump.product);
        let concentrations = || stocks.iter().map(|s| round.stocks[*s].concentration.get());
        let low = concentrations().fold(f64::INFINITY, f64::min);
        let strongest = concentrations().fold(0.0, f64::max);
        let high = strongest.min(round.premix_bound().max(low));
        if !(low - SAME..=high + SAME).contains(&cleaned.c_b) {
            let alone = unreachable(i, sump, cleaned, low, (high, strongest))?;
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
    (high, strongest): (f64, f64),
) -> Result<Refusal, Refusal> {
    let (weakest, most) = (cleaned.comes_to(low), cleaned.comes_to(high));
    let measure = Concentration::measure_of;
    let needed = sentence!(
        "With what the residue of {} brings along, the refill would have to be {} to come to {}",
        &sump.name,
        measure(cleaned.c_b),
        sump.target
    );
    let detail = if cleaned.c_b <= high {
        sentence!(
            "{}, and the stocks make at least {}, which brings it to {}. Raise the target, leave \
             less residue, or rinse it with water.",
            needed,
            measure(low),
            measure(weakest)
        )
    } else if cleaned.c_b <= strongest {
        sentence!(
            "{}, and a mix poured into a sump is {} at most, which brings it to {}. Lower the \
             target, leave less residue, or give as premix_at_most what the fluid's own sheet \
             allows.",
            needed,
            measure(high),
            measure(most)
        )
    } else {
        sentence!(
            "{}, and the stocks make at most {}, which brings it to {}. Lower the target, leave \
             less residue, or rinse with something stronger.",
            needed,
            measure(high),
            measure(most)
        )
    };
    let concentration = Some(concentration_range(weakest, most)?);
    Ok(Refusal::new(Kind::Unreachable, format!("/sumps/{i}/target"), detail)
        .reachable(Reachable { concentration, volume: None }))
}

/// The sumps of `product`, those together that may share a batch. Starting from
/// the weakest, each batch takes all that lie within the tolerance of its first,
/// which makes as few batches as can be.
fn shared(round: &Recharge, product: &str, strengths: &[f64]) -> Vec<Vec<usize>> {
    let tolerance = round.strength_tolerance.map_or(USUAL_TOLERANCE, Quantity::get);
    let mut sumps: Vec<usize> =
        (0..strengths.len()).filter(|i| round.sumps[*i].product == product).collect();
    order::least_first(&mut sumps, |sump| strengths[*sump]);
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
