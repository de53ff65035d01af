//! What to look at before a round, and what can hurt in it: no more than what its
//! sheet tells to do.

use super::dilution::Cleaned;
use super::mixed::Mixed;
use super::{Holds, Recharge, SumpToClean};
use crate::fluid::practice::{self, LARGE_SUMP, PREMIX_AT_MOST};
use crate::fluid::stock::{self, Stock};
use crate::quantity::{Concentration, Mass, Measure, Quantity, Share, Volume};
use crate::text::{Caution, Finding, Refusal, Sentence, Severity};

impl Recharge {
    pub(super) fn findings(&self, cleaned: &[Cleaned]) -> Vec<Finding> {
        let mut findings = stock::findings(&self.plain_stocks());
        let targets = self.sumps.iter().enumerate();
        findings.extend(practice::few(targets.filter_map(|(i, sump)| {
            practice::unusual_strength(sump.target, &format!("/sumps/{i}/target"))
        })));
        let nitrite = self.sumps.iter().enumerate().flat_map(|(i, sump)| {
            let pointer = format!("/sumps/{i}");
            practice::nitrite_in(sump.left_properties(), &pointer)
                .map(|finding| Finding { pointer: pointer.clone().into(), ..finding })
                .collect::<Vec<_>>()
        });
        findings.extend(practice::few(nitrite));
        for (i, (sump, cleaned)) in self.sumps.iter().zip(cleaned).enumerate() {
            let filled = cleaned.before.volume + cleaned.cleaner.volume;
            if cleaned.cleaner.volume > 0.0 && filled > cleaned.v {
                let text = Sentence::new(
                    "With its system cleaner {} comes to {}, above its working level of {}. Take so \
                     much out before the cleaner goes in.",
                );
                let text = text
                    .say(sump.name.clone())
                    .with(Volume::measure_of(filled))
                    .with(sump.volume.measure());
                findings.push(Finding::act(
                    "cleaner-overfills",
                    format!("/sumps/{i}/cleaner"),
                    text,
                ));
            }
        }
        findings.extend(self.old_fluid(cleaned));
        findings.extend(self.cleaner_stays());
        findings.extend(self.bare_water(cleaned));
        findings.extend(self.factors_differ());
        findings.sort_by_key(|finding| finding.severity);
        findings
    }

    /// What stays of the old fluid brings its microbes along.
    fn old_fluid(&self, cleaned: &[Cleaned]) -> Option<Finding> {
        let left = |place: &usize| cleaned[*place].old_fluid_left;
        let worst = (0..cleaned.len()).max_by(|a, b| left(a).total_cmp(&left(b)))?;
        if left(&worst) <= 0.0 {
            return None;
        }
        let text = Sentence::new(
            "{} of its old fluid stays in {}, the most of this round. What lives in it grows again in \
             the new charge: scrape, circulate a system cleaner, rinse once more, or take more out.",
        );
        let share = Share::measure_of(left(&worst) * 100.0).rounded(2);
        let text = text.with(share).say(self.sumps[worst].name.clone());
        Some(Finding::watch("old-fluid-stays", format!("/sumps/{worst}/residue"), text))
    }

    /// Cleaner that nothing rinses out goes on working in the new charge.
    fn cleaner_stays(&self) -> Option<Finding> {
        let place = self.sumps.iter().position(|sump| {
            sump.cleaner.is_some() && sump.rinse.is_none() && sump.stays() > 0.0
        })?;
        let text = Sentence::new(
            "{} is not rinsed after its system cleaner. What stays of the cleaner foams and strips \
             the new charge: rinse with a weak mix of the same product.",
        );
        let text = text.say(self.sumps[place].name.clone());
        Some(Finding::watch("cleaner-stays", format!("/sumps/{place}/rinse"), text))
    }

    /// Steel that was rinsed with water alone rusts before the refill comes.
    fn bare_water(&self, cleaned: &[Cleaned]) -> Option<Finding> {
        let place = cleaned
            .iter()
            .position(|cleaned| cleaned.rinse.volume > 0.0 && cleaned.rinse.concentrate <= 0.0)?;
        let text = Sentence::new(
            "{} is rinsed with water alone, which leaves bare steel to rust and thins the refill. \
             Rinse with a mix of the same product at {} to {}.",
        );
        let (low, high) = practice::RINSE_STRENGTHS;
        let text = text
            .say(self.sumps[place].name.clone())
            .with(Concentration::measure_of(low))
            .with(Concentration::measure_of(high));
        let severity = Severity::Watch;
        Some(Finding::new(severity, "rinsed-with-water", format!("/sumps/{place}/rinse"), text))
    }

    /// A factor belongs to a fluid, so sumps of one product have the same.
    fn factors_differ(&self) -> Option<Finding> {
        let other = |sump: &SumpToClean| {
            let (own, first) = (sump.factor?.get(), self.factor(&sump.product)?);
            ((own - first).abs() > 0.0).then_some((own, first))
        };
        let (place, (own, first)) =
            self.sumps.iter().enumerate().find_map(|(i, sump)| Some((i, other(sump)?)))?;
        let text = Sentence::new(
            "{} has the factor {} where another sump of {} has {}. A refractometer factor belongs to \
             the fluid; batches were given the reading by {}.",
        );
        let bare = |factor| Measure::bare(factor).rounded(3);
        let text = text
            .say(self.sumps[place].name.clone())
            .with(bare(own))
            .say(self.sumps[place].product.clone())
            .with(bare(first))
            .with(bare(first));
        Some(Finding::watch("factors-differ", format!("/sumps/{place}/factor"), text))
    }

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
        let lifts = self.takes(Holds::Chips).map(|(_, takes)| takes).fold(0.0, f64::max);
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
