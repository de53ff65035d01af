//! How much to drain, and how much concentrate the addition must bring.
//!
//! A litre drained and replaced by a stock changes the sump's concentrate by
//! the difference of their strengths, so the least to drain is found by
//! replacing fluid with the most helpful stock first, then with the next, until
//! the gap to the target is closed. No iteration: each stock is one straight
//! stretch.

use super::{Draining, blend};
use crate::quantity::{Concentration, Quantity, Volume};
use crate::refusal::{Kind, Reachable, Refusal, VolumeRange, concentration_range};
use crate::sentence::{Measure, Sentence};
use crate::stock::Stock;

/// The sump as it is and as it is to be: litres and % by volume.
pub(super) struct Job {
    pub(super) v_0: f64,
    pub(super) c_0: f64,
    pub(super) v_t: f64,
    pub(super) c_t: f64,
}

/// What to do about it.
#[derive(Debug, PartialEq)]
pub(super) struct Plan {
    /// What to drain, L.
    pub(super) drain: f64,
    /// Concentrate in the addition, in litres times % by volume.
    pub(super) concentrate: f64,
    /// The concentration that the sump comes to, % by volume.
    pub(super) comes_to: f64,
}

/// Two amounts of concentrate this near are the same, as a share of the sump.
const ROUNDING: f64 = 1e-12;

pub(super) fn plan(job: &Job, stocks: &[Stock], draining: Draining) -> Result<Plan, Refusal> {
    let Some((low, high)) = range(stocks, job.room()) else {
        return Err(cannot_fill(job, stocks));
    };
    let wanted = job.c_t * job.v_t - job.kept();
    let slack = ROUNDING * 100.0 * job.v_t;
    if wanted >= low - slack && wanted <= high + slack {
        let concentrate = wanted.clamp(low, high);
        return Ok(Plan { drain: job.overfull(), concentrate, comes_to: job.c_t });
    }

    let too_rich = wanted < low;
    let nearest = if too_rich { low } else { high };
    let gap = (wanted - nearest).abs();
    let swap = job.swap(stocks, too_rich, gap);
    if gap - swap.changed > slack {
        return Err(out_of_reach(job, stocks, too_rich, draining));
    }
    if draining == Draining::NotAllowed {
        let comes_to = ((job.kept() + nearest) / job.v_t).clamp(0.0, 100.0);
        return Ok(Plan { drain: 0.0, concentrate: nearest, comes_to });
    }
    let drain = job.overfull() + swap.drained;
    let concentrate = job.c_t * job.v_t - job.c_0 * (job.v_0 - drain);
    Ok(Plan { drain, concentrate, comes_to: job.c_t })
}

/// The least and most concentrate that `volume` litres of the stocks bring, in
/// litres times % by volume.
fn range(stocks: &[Stock], volume: f64) -> Option<(f64, f64)> {
    if volume <= 0.0 {
        return Some((0.0, 0.0));
    }
    blend::reach(stocks, volume).map(|(low, high)| (low * volume, high * volume))
}

/// The stocks that help most first: the weakest for a sump that is too rich.
fn by_help(stocks: &[Stock], too_rich: bool) -> Vec<&Stock> {
    let mut stocks: Vec<&Stock> = stocks.iter().collect();
    stocks.sort_by(|a, b| a.concentration.get().total_cmp(&b.concentration.get()));
    if !too_rich {
        stocks.reverse();
    }
    stocks
}

/// Fluid drained and replaced by stocks.
struct Swap {
    /// Litres drained.
    drained: f64,
    /// By how much that changed the sump's concentrate, in litres times % by volume.
    changed: f64,
}

impl Job {
    /// What has to leave because the sump holds more than its target, L.
    fn overfull(&self) -> f64 {
        (self.v_0 - self.v_t).max(0.0)
    }

    /// What fits in before anything else leaves, L.
    fn room(&self) -> f64 {
        (self.v_t - self.v_0).max(0.0)
    }

    /// The concentrate that is there before anything is added, in litres times
    /// % by volume.
    fn kept(&self) -> f64 {
        self.c_0 * (self.v_0 - self.overfull())
    }

    /// Replaces the sump's fluid by the stocks that help most, after the first of
    /// them have filled the room there was, until the concentrate has changed by
    /// `gap` or no stock helps any more.
    fn swap(&self, stocks: &[Stock], too_rich: bool, gap: f64) -> Swap {
        let mut filling = self.room();
        let may_drain = self.v_0 - self.overfull();
        let mut swap = Swap { drained: 0.0, changed: 0.0 };
        for stock in by_help(stocks, too_rich) {
            let left = (stock.on_hand() - filling).max(0.0);
            filling = (filling - stock.on_hand()).max(0.0);
            let c_i = stock.concentration.get();
            let help = if too_rich { self.c_0 - c_i } else { c_i - self.c_0 };
            if help <= 0.0 {
                break;
            }
            let enough = (gap - swap.changed) / help;
            let drained = enough.min(left).min(may_drain - swap.drained).max(0.0);
            swap.drained += drained;
            swap.changed += drained * help;
        }
        swap
    }

    /// The weakest and the strongest that the sump can be brought to, % by volume.
    fn extremes(&self, stocks: &[Stock], draining: Draining) -> (f64, f64) {
        let (low, high) = range(stocks, self.room()).unwrap_or_default();
        let changed = |too_rich| match draining {
            Draining::Allowed => self.swap(stocks, too_rich, f64::INFINITY).changed,
            Draining::NotAllowed => 0.0,
        };
        let kept = self.kept();
        ((kept + low - changed(true)) / self.v_t, (kept + high + changed(false)) / self.v_t)
    }
}

fn cannot_fill(job: &Job, stocks: &[Stock]) -> Refusal {
    let most = job.v_0 + blend::on_hand(stocks);
    let detail = "The stocks on hand fill the sump to {}, short of the target of {}. Aim lower, or \
                  have more on hand.";
    let detail = Sentence::new(detail)
        .with(Measure::of(Volume::ROW, most))
        .with(Measure::of(Volume::ROW, job.v_t));
    let range = || Ok::<_, Refusal>(VolumeRange { low: Volume::of(0.0)?, high: Volume::of(most)? });
    let refusal = Refusal::new(Kind::Unreachable, "/target/volume", detail);
    match range() {
        Ok(volume) => refusal.reachable(Reachable { volume: Some(volume), concentration: None }),
        Err(refusal) => refusal,
    }
}

/// Not even with draining do the stocks bring the sump to its target.
fn out_of_reach(job: &Job, stocks: &[Stock], too_rich: bool, draining: Draining) -> Refusal {
    let (low, high) = job.extremes(stocks, draining);
    let (side, end, reached) =
        if too_rich { ("weak", "least", low) } else { ("strong", "most", high) };
    let detail = format!(
        "The stocks are not {side} enough: the {end} this sump can be brought to is {{}}, and {{}} \
         was asked for. Add a {side}er stock, or have more of the one that is."
    );
    let detail = Sentence::new(detail)
        .with(Measure::of(Concentration::ROW, reached))
        .with(Measure::of(Concentration::ROW, job.c_t));
    let refusal = Refusal::new(Kind::Unreachable, "/target/concentration", detail);
    match concentration_range(low, high) {
        Ok(range) => refusal.reachable(Reachable { concentration: Some(range), volume: None }),
        Err(refusal) => refusal,
    }
}
