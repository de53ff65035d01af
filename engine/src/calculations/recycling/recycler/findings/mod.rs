//! What to look at before a batch is recycled.

mod over_limit;
mod plant;

use super::correction::Corrected;
use super::treatment::Treatment;
use super::{Recycler, RecyclerAnswer};
use crate::fluid::{Fluid, practice, stock};
use crate::quantity::Quantity;
use crate::text::{Finding, Refusal};

impl Recycler {
    pub(super) fn findings(
        &self,
        treatment: &Treatment<'_>,
        (corrected, recovered): (&Corrected, &Fluid),
        answer: &RecyclerAnswer,
    ) -> Result<Vec<Finding>, Refusal> {
        let mut findings = plant::findings(answer);
        findings.extend(over_limit::findings(treatment, answer.bacteria));
        findings.extend(self.strengths()?);
        findings.extend(self.microbes());
        let feed = &self.feed;
        if let Some(reading) = &feed.reading {
            let delivered = self.arrivals().iter().filter_map(|a| a.properties.tramp_oil);
            let oil = feed.properties.tramp_oil.into_iter().chain(delivered);
            let oil = oil.max_by(|a, b| a.get().total_cmp(&b.get()));
            findings.extend(practice::tramp_oil_in_reading(reading, oil, "/feed/reading"));
        }
        findings.extend(practice::nitrite_in(&feed.properties, "/feed/properties"));
        let delivered = self.arrivals().iter().enumerate().flat_map(|(i, arrival)| {
            let pointer = format!("/feed/arrivals/{i}/properties");
            practice::nitrite_in(&arrival.properties, &pointer).collect::<Vec<_>>()
        });
        findings.extend(practice::few(delivered));
        findings.extend(stock::findings(self.stocks.as_deref().unwrap_or_default()));
        findings.extend(corrected.growth(self, recovered));
        Ok(findings)
    }

    /// Strengths that no working sump has.
    fn strengths(&self) -> Result<Vec<Finding>, Refusal> {
        let feed = &self.feed;
        let member = if feed.reading.is_some() { "/feed/reading" } else { "/feed/concentration" };
        let own = self.strength_given()?.and_then(|c| practice::unusual_strength(c, member));
        let target = self.target.concentration;
        let target = practice::unusual_strength(target, "/target/concentration");
        let delivered = self.arrivals().iter().enumerate().filter_map(|(i, arrival)| {
            let pointer = format!("/feed/arrivals/{i}/concentration");
            practice::unusual_strength(arrival.concentration?, &pointer)
        });
        Ok(own.into_iter().chain(target).chain(practice::few(delivered)).collect())
    }

    fn microbes(&self) -> Vec<Finding> {
        let own = self.feed.dip_slide;
        let own = own.and_then(|n| practice::poor_count(n, "The dirty fluid", "/feed/dip_slide"));
        let delivered = self.arrivals().iter().enumerate().filter_map(|(i, arrival)| {
            let pointer = format!("/feed/arrivals/{i}/dip_slide");
            practice::poor_count(arrival.dip_slide?, "This delivery", &pointer)
        });
        let kills = self
            .stages
            .iter()
            .enumerate()
            .filter(|(_, stage)| stage.kills.is_some_and(|share| share.get() > 0.0));
        let killed = kills.map(|(i, _)| practice::killed_stays(&format!("/stages/{i}/kills")));
        own.into_iter().chain(practice::few(delivered)).chain(killed.take(1)).collect()
    }
}
