//! What can hurt in a round: no more than what its sheet says to do.

use super::dilution::Cleaned;
use super::mixed::Mixed;
use super::{Recharge, VesselUse};
use crate::fluid::practice::{LARGE_SUMP, PREMIX_AT_MOST};
use crate::fluid::stock::Stock;
use crate::quantity::{Mass, Quantity};
use crate::text::{Caution, Refusal};

impl Recharge {
    /// `most_chips` is the most that the vessels for chips hold at once, kg.
    pub(super) fn cautions(
        &self,
        stocks: &[Stock],
        cleaned: &[Cleaned],
        (batches, rinse_mixes): (&[Mixed], &[Mixed]),
        most_chips: f64,
    ) -> Result<Vec<Caution>, Refusal> {
        let chips = self.sumps.iter().any(|sump| sump.chips() > 0.0);
        let scraped = self.sumps.iter().any(|sump| sump.scraping_minutes.is_some());
        let neat = |mix: &Mixed| {
            mix.poured(stocks).iter().any(|(stock, _)| stock.concentration.get() > PREMIX_AT_MOST)
        };
        let taken_out = cleaned.iter().any(|cleaned| cleaned.dirty() > 0.0);
        let lifts = self.takes(VesselUse::Chips).map(|(_, takes)| takes).fold(0.0, f64::max);
        let lifts = lifts.min(most_chips);
        let mut cautions = vec![Caution::MACHINE, Caution::OVERFILLING, Caution::SKIN_AND_MIST];
        let mut add = |applies: bool, caution: Caution| {
            if applies {
                cautions.push(caution);
            }
        };
        add(lifts > 0.0, Caution::lifting(Mass::of(lifts)?));
        add(chips || scraped, Caution::SHARP_CHIPS);
        add(chips, Caution::METAL_FINES);
        let large = self.sumps.iter().any(|sump| sump.volume.get() >= LARGE_SUMP);
        add(large, Caution::CONFINED_SPACE);
        add(self.sumps.iter().any(|sump| sump.cleaner.is_some()), Caution::BIOCIDE);
        add(batches.iter().chain(rinse_mixes).any(neat), Caution::CONCENTRATE);
        add(taken_out, Caution::DRAINED_FLUID);
        Ok(cautions)
    }
}
