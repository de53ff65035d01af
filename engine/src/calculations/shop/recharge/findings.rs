//! What to look at before a round.

use super::dilution::Cleaned;
use super::{Recharge, SumpToClean};
use crate::fluid::practice;
use crate::fluid::stock;
use crate::quantity::{Concentration, Measure, Quantity, Share, Volume};
use crate::sentence;
use crate::text::Finding;

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
                let text = sentence!(
                    "With its system cleaner {} comes to {}, above its working level of {}. Take \
                     {} out before the cleaner goes in.",
                    &sump.name,
                    Volume::measure_of(filled).rounded(4),
                    sump.volume,
                    Volume::measure_of(filled - cleaned.v).rounded(3)
                );
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
        let text = sentence!(
            "{} of its old fluid stays in {}, the most of this round. What lives in it grows again in \
             the new charge: scrape, circulate a system cleaner, rinse once more, or take more out.",
            Share::measure_of_fraction(left(&worst)).rounded(2),
            &self.sumps[worst].name
        );
        Some(Finding::watch("old-fluid-stays", format!("/sumps/{worst}/residue"), text))
    }

    /// Cleaner that nothing rinses out goes on working in the new charge.
    fn cleaner_stays(&self) -> Option<Finding> {
        let place = self.sumps.iter().position(|sump| {
            sump.cleaner.is_some() && sump.rinse.is_none() && sump.stays() > 0.0
        })?;
        let text = sentence!(
            "{} is not rinsed after its system cleaner. What stays of the cleaner foams and strips \
             the new charge: rinse with a weak mix of the same product.",
            &self.sumps[place].name
        );
        Some(Finding::watch("cleaner-stays", format!("/sumps/{place}/rinse"), text))
    }

    /// Steel that was rinsed with water alone rusts before the refill comes.
    fn bare_water(&self, cleaned: &[Cleaned]) -> Option<Finding> {
        let place = cleaned
            .iter()
            .position(|cleaned| cleaned.rinse.volume > 0.0 && cleaned.rinse.concentrate <= 0.0)?;
        let (low, high) = practice::RINSE_STRENGTHS;
        let text = sentence!(
            "{} is rinsed with water alone, which leaves bare steel to rust and thins the refill. \
             Rinse with a mix of the same product at {} to {}.",
            &self.sumps[place].name,
            Concentration::measure_of(low),
            Concentration::measure_of(high)
        );
        Some(Finding::watch("rinsed-with-water", format!("/sumps/{place}/rinse"), text))
    }

    /// A factor belongs to a fluid, so sumps of one product have the same.
    fn factors_differ(&self) -> Option<Finding> {
        let other = |sump: &SumpToClean| {
            let (own, first) = (sump.factor?.get(), self.factor(&sump.product)?);
            ((own - first).abs() > 0.0).then_some((own, first))
        };
        let (place, (own, first)) =
            self.sumps.iter().enumerate().find_map(|(i, sump)| Some((i, other(sump)?)))?;
        let bare = |factor| Measure::bare(factor).rounded(3);
        let text = sentence!(
            "{} has the factor {} where another sump of {} has {}. A refractometer factor belongs to \
             the fluid; batches were given the reading by {}.",
            &self.sumps[place].name,
            bare(own),
            &self.sumps[place].product,
            bare(first),
            bare(first)
        );
        Some(Finding::watch("factors-differ", format!("/sumps/{place}/factor"), text))
    }
}
