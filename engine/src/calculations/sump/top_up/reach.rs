//! How strong a sump can be made with what there is, and why it cannot.

use super::job::Job;
use super::{Draining, batch};
use crate::fluid::stock::Stock;
use crate::quantity::{Concentration, Quantity, Volume};
use crate::sentence;
use crate::text::{Kind, Reachable, Refusal, VolumeRange, concentration_range};

/// What an addition of so many litres can bring.
pub(super) struct AdditionReach {
    volume: f64,
    weakest: f64,
    strongest: f64,
    bound: f64,
}

impl AdditionReach {
    /// What `volume` litres of the stocks can bring, no stronger than `bound`; none
    /// where there is not so much on hand.
    pub(super) fn of(stocks: &[Stock], volume: f64, bound: f64) -> Option<Self> {
        if volume <= 0.0 {
            return Some(Self { volume: 0.0, weakest: 0.0, strongest: 0.0, bound });
        }
        let (weakest, strongest) = batch::reach(stocks, volume)?;
        Some(Self { volume, weakest, strongest, bound })
    }

    /// The least concentrate, in litres times % by volume.
    pub(super) fn low(&self) -> f64 {
        self.weakest * self.volume
    }

    /// The most concentrate, in litres times % by volume.
    pub(super) fn high(&self) -> f64 {
        self.strongest.min(self.bound) * self.volume
    }

    /// Whether the stocks could do more than a premix may.
    pub(super) fn is_bounded(&self) -> bool {
        self.volume > 0.0 && self.strongest > self.bound
    }
}

pub(super) fn cannot_fill(job: &Job, stocks: &[Stock]) -> Refusal {
    let most = job.v_0 + batch::on_hand(stocks);
    let detail = sentence!(
        "The stocks on hand fill the sump to {}, short of the target of {}. Aim lower, or have more \
         on hand.",
        Volume::measure_of(most),
        Volume::measure_of(job.v_t)
    );
    let range = || Ok::<_, Refusal>(VolumeRange { low: Volume::of(0.0)?, high: Volume::of(most)? });
    let refusal = Refusal::new(Kind::Unreachable, "/target/volume", detail);
    match range() {
        Ok(volume) => refusal.reachable(Reachable { volume: Some(volume), concentration: None }),
        Err(refusal) => refusal,
    }
}

/// All that is at hand is stronger than what may be poured.
pub(super) fn nothing_to_thin_with(job: &Job, reach: &AdditionReach) -> Refusal {
    let detail = sentence!(
        "The weakest stock on hand is {}, and a premix poured into a sump is {} at most. Give the \
         water too that it is mixed with, or, where a mixing tank with a stirrer is filled, say so \
         as the vessel.",
        Concentration::measure_of(reach.weakest),
        Concentration::measure_of(job.strongest)
    );
    Refusal::new(Kind::Unreachable, "/stocks", detail)
}

/// Not even with draining do the stocks bring the sump to its target.
pub(super) fn out_of_reach(
    job: &Job,
    stocks: &[Stock],
    too_rich: bool,
    draining: Draining,
) -> Refusal {
    let (low, high) = job.extremes(stocks, draining);
    let premix_in_the_way = !too_rich && job.most_by_stocks(stocks, draining) > high;
    let reached = if too_rich { low } else { high };
    let (reached, wanted) =
        (Concentration::measure_of(reached), Concentration::measure_of(job.c_t));
    let detail = if premix_in_the_way {
        sentence!(
            "Poured in at {} at most, which is as strong as a premix may be here, this sump comes \
             to {}, and {} was asked for. Aim lower; say premix_at_most where the fluid's sheet \
             allows a stronger premix; or, where a mixing tank with a stirrer is filled, say so as \
             the vessel.",
            Concentration::measure_of(job.strongest),
            reached,
            wanted
        )
    } else if too_rich {
        sentence!(
            "The stocks are not weak enough: the least this sump can be brought to is {}, and {} \
             was asked for. Add a weaker stock, or have more of the one that is.",
            reached,
            wanted
        )
    } else {
        sentence!(
            "The stocks are not strong enough: the most this sump can be brought to is {}, and {} \
             was asked for. Add a stronger stock, or have more of the one that is.",
            reached,
            wanted
        )
    };
    let refusal = Refusal::new(Kind::Unreachable, "/target/concentration", detail);
    match concentration_range(low.min(high), high) {
        Ok(range) => refusal.reachable(Reachable { concentration: Some(range), volume: None }),
        Err(refusal) => refusal,
    }
}

impl Job {
    /// The weakest and the strongest that the sump can be brought to, % by volume.
    fn extremes(&self, stocks: &[Stock], draining: Draining) -> (f64, f64) {
        let low = match AdditionReach::of(stocks, self.room(), self.strongest) {
            Some(reach) => reach.low(),
            None => 0.0,
        };
        let changed = if self.drains(draining) {
            self.swap(stocks, true, f64::INFINITY).changed
        } else {
            0.0
        };
        let p = self.strongest;
        let filled = (self.kept() + p * self.room()) / self.v_t;
        let bounded = if self.drains(draining) { filled.max(p) } else { filled };
        let most = self.most_by_stocks(stocks, draining).min(bounded);
        ((self.kept() + low - changed) / self.v_t, most)
    }

    /// The strongest that the sump could be brought to if anything might be poured.
    fn most_by_stocks(&self, stocks: &[Stock], draining: Draining) -> f64 {
        let room = self.room();
        let high = if room > 0.0 {
            batch::reach(stocks, room).map_or(0.0, |(_, high)| high * room)
        } else {
            0.0
        };
        let changed = if self.drains(draining) {
            self.swap(stocks, false, f64::INFINITY).changed
        } else {
            0.0
        };
        (self.kept() + high + changed) / self.v_t
    }

    fn drains(&self, draining: Draining) -> bool {
        draining != Draining::NotAllowed && !self.is_in_band(self.c_0)
    }
}
