//! What the round does for each sump, and what stays out of its reach.

use super::TopUpRound;
use super::answer::{RoundOutcome, SumpOnRound};
use super::filled::Filled;
use super::need::Need;
use super::premixes::{PlannedProduct, PremixMade};
use super::strengths::Makeable;
use crate::fluid::band::Standing;
use crate::fluid::sump::SumpAfter;
use crate::quantity::{Concentration, Count, Quantity, Volume};
use crate::text::Refusal;

impl TopUpRound {
    /// What is done to each sump, in the order of the walk.
    pub(super) fn sumps_on_round(
        &self,
        needs: &[Need],
        planned: &[PlannedProduct],
        made: &[PremixMade],
        filled: &[Filled],
    ) -> Result<Vec<SumpOnRound>, Refusal> {
        let mut outcomes = vec![(RoundOutcome::InOrder, None); self.sumps.len()];
        for PlannedProduct { sumps, plan } in planned {
            let product = &self.sumps[sumps[0]].product;
            for (place, i) in sumps.iter().enumerate() {
                let touched =
                    plan.pours[place].is_some() || filled[*i].gives + filled[*i].takes > 0.0;
                outcomes[*i] = match (plan.served[place], touched) {
                    (true, true) => (RoundOutcome::Served, None),
                    (true, false) => (RoundOutcome::InOrder, None),
                    (false, _) => {
                        let makeable = self.makeable(product);
                        out_of_reach(&needs[*i], makeable.as_ref())
                    }
                };
            }
        }
        let sumps = self.sumps.iter().zip(filled).zip(needs).zip(outcomes);
        let sumps = sumps.map(|(((found, filled), need), (outcome, draining))| {
            let volume = filled.after.volume.clamp(0.0, found.sump.capacity.get());
            let concentration = Concentration::of(filled.after.concentration().clamp(0.0, 100.0))?;
            let reading = found.sump.reading.as_ref();
            debug_assert!(filled.pour.is_none_or(|(place, _)| place < made.len()));
            Ok(SumpOnRound {
                name: found.name.clone(),
                standing: (need.v > 0.0).then_some(need.standing),
                outcome,
                gives: Volume::of(filled.gives)?,
                takes: Volume::of(filled.takes)?,
                premix: filled.pour.map(|(place, _)| Count::from_usize(place + 1)).transpose()?,
                add: Volume::of(filled.pour.map_or(0.0, |(_, litres)| litres))?,
                after: SumpAfter {
                    volume: Volume::of(volume)?,
                    concentration,
                    mark: reading.and_then(|own| own.mark(concentration, "/sumps").ok()),
                    properties: filled.after.properties()?,
                },
                draining_needed: draining.map(Volume::of).transpose()?,
            })
        });
        sumps.collect()
    }
}

/// Why a sump stays out of its band, and what draining it would take, L.
fn out_of_reach(need: &Need, makeable: Option<&Makeable>) -> (RoundOutcome, Option<f64>) {
    let Some(makeable) = makeable else { return (RoundOutcome::BetweenSettings, None) };
    let (weakest, strongest) = (makeable.weakest, makeable.strongest);
    if need.strengths(weakest, strongest).is_some() {
        return (RoundOutcome::BetweenSettings, None);
    }
    let rich = match need.standing {
        Standing::Above => true,
        Standing::Below => false,
        // It lacks fluid, and what there is to fill it with takes it out of its band.
        Standing::InBand => weakest > need.high,
    };
    let outcome =
        if rich { RoundOutcome::TooStrongForItsRoom } else { RoundOutcome::TooWeakForItsRoom };
    // Drained by D and filled up: K − c·D + s·(C − V + D) = c_end·C.
    let (s, end) = if rich { (weakest, need.high) } else { (strongest, need.low) };
    let c = need.strength();
    let short = end * need.cap - need.k - s * (need.cap - need.v);
    let drained = short / (s - c);
    let possible = drained.is_finite() && drained > 0.0 && drained <= need.v && need.v > 0.0;
    (outcome, Some(drained).filter(|_| possible))
}
