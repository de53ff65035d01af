//! What whoever goes on the round has to know first.

use super::TopUpRound;
use super::answer::{RoundOutcome, TopUpRoundAnswer};
use super::steps::stays_out;
use crate::fluid::{practice, stock};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::Finding;

impl TopUpRound {
    pub(super) fn findings(&self, answer: &TopUpRoundAnswer) -> Vec<Finding> {
        let mut findings = practice::few(self.unusual());
        findings.extend(practice::few(self.against()));
        findings.extend(practice::few(self.carried()));
        findings.extend(practice::few(out_of_reach(answer)));
        findings.extend(stock::findings(&self.plain_stocks()));
        findings.extend(water_alone(answer));
        findings.extend(not_proven(answer));
        findings.sort_by_key(|finding| finding.severity);
        findings
    }

    /// Strengths and bands that no working sump has.
    fn unusual(&self) -> Vec<Finding> {
        let found = self.sumps.iter().enumerate().flat_map(|(i, found)| {
            let place = if found.sump.reading.is_some() { "reading" } else { "concentration" };
            let now =
                found.sump.strength().ok().flatten().filter(|_| found.sump.volume.get() > 0.0);
            let pointer = format!("/sumps/{i}/sump/{place}");
            let now = now.and_then(|c| practice::unusual_strength(c, &pointer));
            let band = found.band.unusual().map(|own| {
                let pointer = format!("/sumps/{i}{}", own.pointer).into();
                Finding { pointer, ..own }
            });
            let named = now.into_iter().chain(band);
            named.map(|own| {
                let text = sentence!("{}: {}", &found.name, own.text);
                Finding { text, ..own }
            })
        });
        found.collect()
    }

    /// What was found against a fluid, which topping up does not put right.
    fn against(&self) -> Vec<Finding> {
        let found = self.sumps.iter().enumerate().filter_map(|(i, found)| {
            let against = found.against.as_ref()?;
            let text = sentence!(
                "{}: {}. Topping it up does not put that right: find out first what the fluid's \
                 condition asks for. None of it is moved.",
                &found.name,
                against
            );
            Some(Finding::act("found-against-fluid", format!("/sumps/{i}/against"), text))
        });
        found.collect()
    }

    /// What the fluids carry that has to be seen to.
    fn carried(&self) -> Vec<Finding> {
        let found = self.sumps.iter().enumerate().flat_map(|(i, found)| {
            let properties = &found.sump.properties;
            let at = format!("/sumps/{i}/sump/properties");
            let mut own: Vec<Finding> = practice::nitrite_in(properties, &at).collect();
            if let Some(reading) = &found.sump.reading {
                let at = format!("/sumps/{i}/sump/reading");
                own.extend(practice::tramp_oil_in_reading(reading, properties.tramp_oil, &at));
            }
            own.into_iter().map(|own| {
                let text = sentence!("{}: {}", &found.name, own.text);
                Finding { text, ..own }
            })
        });
        found.collect()
    }
}

fn out_of_reach(answer: &TopUpRoundAnswer) -> Vec<Finding> {
    let out = answer.sumps.iter().enumerate().filter_map(|(i, sump)| {
        let code = match sump.outcome {
            RoundOutcome::InOrder | RoundOutcome::Served => return None,
            RoundOutcome::TooWeakForItsRoom => "too-weak-for-its-room",
            RoundOutcome::TooStrongForItsRoom => "too-strong-for-its-room",
            RoundOutcome::BetweenSettings => "between-settings",
        };
        Some(Finding::watch(code, format!("/sumps/{i}/sump"), stays_out(sump)?))
    });
    out.collect()
}

/// Water as it is goes into a sump.
fn water_alone(answer: &TopUpRoundAnswer) -> Option<Finding> {
    let water = answer.premixes.iter().any(|own| own.concentration.get() <= 0.0);
    water.then(|| {
        let text = sentence!(
            "Some sumps are thinned with water as it is. A weak premix keeps the emulsion and the \
             machine better; give the weakest that you pour (premix_at_least), and the round keeps \
             to it. (UK HSE and lubricant trade, at second hand.)"
        );
        Finding::note("water-as-it-is", "/premix_at_least", text)
    })
}

fn not_proven(answer: &TopUpRoundAnswer) -> Option<Finding> {
    if answer.proven {
        return None;
    }
    if answer.strengths_at_least == answer.strengths {
        let text = sentence!(
            "Other moves may bring more of the sumps into their bands without more concentrate; \
             that was not looked through to the end."
        );
        return Some(Finding::note("more-may-be-served", "/moving", text));
    }
    let text = sentence!(
        "The round takes {} strengths, and it is proven only that none does with fewer than {}.",
        answer.strengths,
        answer.strengths_at_least
    );
    Some(Finding::note("fewest-strengths-not-proven", "/moving", text))
}
