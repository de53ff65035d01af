//! What contradicts itself, and what has to be known before the decision is followed.

use super::answer::{Observation, Verdict};
use super::judging::Judged;
use super::question::Condition;
use super::rules;
use crate::fluid::band::Standing;
use crate::fluid::practice;
use crate::quantity::Concentration;
use crate::sentence;
use crate::text::Finding;

impl Condition {
    pub(super) fn findings(
        &self,
        judged: &[Judged],
        strength: Option<Concentration>,
    ) -> Vec<Finding> {
        let pointer = if self.reading.is_some() { "/reading" } else { "/concentration" };
        let mut findings = Vec::new();
        findings.extend(strength.and_then(|c| practice::unusual_strength(c, pointer)));
        if let (Some(reading), Some(oil)) = (&self.reading, self.tramp_oil) {
            findings.extend(practice::tramp_oil_in_reading(reading, Some(oil.share), pointer));
        }
        let slide = self.bacteria.map(|slide| slide.count);
        findings.extend(
            slide.and_then(|count| practice::poor_count(count, "This sump", "/bacteria/count")),
        );
        let nitrite = self.nitrite.map(|nitrite| nitrite.content);
        findings.extend(
            nitrite.and_then(|nitrite| practice::nitrite("nitrite", nitrite, "/nitrite/content")),
        );
        findings.extend(self.nitrate_of_water.and_then(|nitrate| {
            practice::nitrate_of_water("nitrate", nitrate, "/nitrate_of_water")
        }));
        findings.extend(self.attack(judged, strength));
        findings.extend(salts_from_elsewhere(judged));
        findings.extend(self.sheet.iter().flat_map(|sheet| sheet.laxer("/sheet", |_| true)));
        findings
    }

    /// Evaporation raises a pH; one that falls all the same is being eaten up.
    fn attack(&self, judged: &[Judged], strength: Option<Concentration>) -> Option<Finding> {
        let ph = judged.iter().find(|one| one.observation == Observation::Ph)?;
        let is_low = ph.row.is_some_and(|row| row.verdict >= Verdict::Watch);
        let fallen = self.ph.is_some_and(|ph| ph.at_first_fill.is_some_and(|first| first > ph.now));
        let is_above = self.band.as_ref()?.standing(strength?) == Standing::Above;
        (is_low && fallen && is_above).then(|| {
            let text = sentence!(
                "The strength is above its band and the pH has fallen, where evaporation would raise \
                 both. Something makes acid (microbes as a rule), or acid came in. Dip a slide, and \
                 do not correct it with alkali before you know which."
            );
            Finding::watch("ph-falls-while-strength-rises", "/ph/now", text)
        })
    }
}

/// More salts than evaporation explains.
fn salts_from_elsewhere(judged: &[Judged]) -> Option<Finding> {
    let salty = judged.iter().find(|one| one.row == Some(rules::TOO_SALTY))?;
    let text = sentence!(
        "More salt than it should have: {}. What evaporation does not explain comes from elsewhere: \
         cleaner, parts from a bath, another fluid. Find that before it is filled anew, or it comes \
         back.",
        salty.text.clone()
    );
    Some(Finding::watch("salts-from-elsewhere", "/conductivity/now", text))
}
