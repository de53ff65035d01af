//! How much to drain, and how much concentrate the addition must bring.
//!
//! What is added is at most as strong as a premix may be, p. A litre drained and
//! replaced changes the sump's concentrate by the difference of the strengths, so
//! the least to drain is found by replacing fluid with the most helpful stock
//! first, then with the next, until the gap to the target is closed; and, with W
//! the concentrate still wanted and R the room (L), for the premix:
//!
//! 1. p·(R + D) = W + c₀·D, so that D = (W − p·R)/(p − c₀)
//!
//! The larger of the two is drained. No iteration: each stock and the premix are
//! one straight stretch.

use super::job::Job;
use super::reach::{AdditionReach, cannot_fill, nothing_to_thin_with, out_of_reach};
use super::{Draining, batch};
use crate::fluid::stock::Stock;
use crate::numerics::order;
use crate::quantity::Quantity;
use crate::text::Refusal;

/// What to do about it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct TopUpPlan {
    /// What to drain, L.
    pub(super) drain: f64,
    /// What to add, L.
    pub(super) add: f64,
    /// Concentrate in the addition, in litres times % by volume.
    pub(super) concentrate: f64,
    /// What is in the sump afterwards, L.
    pub(super) holds: f64,
    /// The concentration that the sump comes to, % by volume.
    pub(super) comes_to: f64,
    /// What meeting the target would take, where nothing may be drained for it.
    pub(super) would_take: Option<f64>,
    /// Whether it is the premix's bound that keeps the addition from being stronger.
    pub(super) bounded: bool,
}

/// Two amounts of concentrate this near are the same, as a share of the sump.
const ROUNDING: f64 = 1e-12;

pub(super) fn plan(job: &Job, stocks: &[Stock], draining: Draining) -> Result<TopUpPlan, Refusal> {
    let in_band = job.is_in_band(job.c_0) && job.v_0 > 0.0;
    if in_band && job.overfull() > 0.0 {
        // What is in its band is not drained, not even to lower the level.
        return Ok(job.left_alone());
    }
    let Some(reach) = AdditionReach::of(stocks, job.room(), job.strongest) else {
        return Err(cannot_fill(job, stocks));
    };
    let wanted = job.c_t * job.v_t - job.kept();
    let slack = ROUNDING * 100.0 * job.v_t;
    let (low, high) = (reach.low(), reach.high());
    if low > high + slack {
        return Err(nothing_to_thin_with(job, &reach));
    }
    if wanted >= low - slack && wanted <= high + slack {
        return Ok(job.filled(0.0, wanted.clamp(low, high.max(low)), job.c_t));
    }

    let too_rich = wanted < low;
    let nearest = if too_rich { low } else { high };
    let comes_to = ((job.kept() + nearest) / job.v_t).clamp(0.0, 100.0);
    let swapped = job.swapped(stocks, too_rich, wanted - nearest, wanted);
    let as_near_as_it_comes = TopUpPlan {
        would_take: swapped,
        bounded: !too_rich && reach.is_bounded(),
        ..job.filled(0.0, nearest, comes_to)
    };
    // Within the band nothing is thrown away for the sake of the target alone.
    let settled_by_adding = job.is_in_band(comes_to);
    if in_band {
        return if settled_by_adding {
            Ok(as_near_as_it_comes)
        } else {
            Err(out_of_reach(job, stocks, too_rich, draining))
        };
    }
    if swapped.is_none() {
        return Err(out_of_reach(job, stocks, too_rich, draining));
    }
    match (draining, swapped) {
        (Draining::NotAllowed, _) | (_, None) => Ok(as_near_as_it_comes),
        // Weak make-up brings it back as the machine works.
        (Draining::Allowed, _) if settled_by_adding || too_rich && job.works => {
            Ok(as_near_as_it_comes)
        }
        (_, Some(more)) => {
            let drain = job.overfull() + more;
            Ok(job.filled(more, job.c_t * job.v_t - job.c_0 * (job.v_0 - drain), job.c_t))
        }
    }
}

impl Job {
    fn left_alone(&self) -> TopUpPlan {
        TopUpPlan {
            drain: 0.0,
            add: 0.0,
            concentrate: 0.0,
            holds: self.v_0,
            comes_to: self.c_0,
            would_take: None,
            bounded: false,
        }
    }

    /// The sump filled up after so many litres more than it is overfull by have left.
    fn filled(&self, more: f64, concentrate: f64, comes_to: f64) -> TopUpPlan {
        let drain = self.overfull() + more;
        TopUpPlan {
            drain,
            add: self.v_t - self.v_0 + drain,
            concentrate,
            holds: self.v_t,
            comes_to,
            would_take: None,
            bounded: false,
        }
    }

    /// How much more has to be drained to close a gap of concentrate, L; none where
    /// no draining closes it.
    fn swapped(&self, stocks: &[Stock], too_rich: bool, gap: f64, wanted: f64) -> Option<f64> {
        let slack = ROUNDING * 100.0 * self.v_t;
        let free_gap = if too_rich { gap.abs() } else { self.gap_by_stocks(stocks, wanted)? };
        let swap = self.swap(stocks, too_rich, free_gap);
        if free_gap - swap.changed > slack {
            return None;
        }
        let mut drained = swap.drained;
        if !too_rich {
            let p = self.strongest;
            let short = wanted - p * self.room();
            if short > slack {
                if p <= self.c_0 {
                    return None;
                }
                drained = drained.max(short / (p - self.c_0));
            }
        }
        let most = self.may_drain();
        if drained > most * (1.0 + ROUNDING) {
            return None;
        }
        // What is then added has to be there, and weak and strong enough.
        let drained = drained.min(most);
        let reach = AdditionReach::of(stocks, self.room() + drained, self.strongest)?;
        let needed = wanted + self.c_0 * drained;
        (needed >= reach.low() - slack && needed <= reach.high() + slack).then_some(drained)
    }

    /// What is missing when the room is filled with the strongest there is, however
    /// strong.
    fn gap_by_stocks(&self, stocks: &[Stock], wanted: f64) -> Option<f64> {
        let room = self.room();
        let high = if room > 0.0 { batch::reach(stocks, room)?.1 * room } else { 0.0 };
        Some((wanted - high).max(0.0))
    }

    /// Replaces the sump's fluid by the stocks that help most, after the first of
    /// them have filled the room there was, until the concentrate has changed by
    /// `gap` or no stock helps any more.
    pub(super) fn swap(&self, stocks: &[Stock], too_rich: bool, gap: f64) -> Swap {
        let mut filling = self.room();
        let may_drain = self.may_drain();
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
}

/// Fluid drained and replaced by stocks.
pub(super) struct Swap {
    /// Litres drained.
    pub(super) drained: f64,
    /// By how much that changed the sump's concentrate, in litres times % by volume.
    pub(super) changed: f64,
}

/// The stocks that help most first: the weakest for a sump that is too rich.
fn by_help(stocks: &[Stock], too_rich: bool) -> Vec<&Stock> {
    let mut stocks: Vec<&Stock> = stocks.iter().collect();
    order::least_first(&mut stocks, |stock| stock.concentration.get());
    if !too_rich {
        stocks.reverse();
    }
    stocks
}
