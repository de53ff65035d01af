//! What to look at before a dose is poured.

use super::{Dose, DoseAnswer, ProductKind};
use crate::quantity::{Days, Quantity};
use crate::sentence;
use crate::text::Finding;

/// From so much off, as a share of the dose, a jug is too coarse for it. Common practice, no
/// source.
const TOO_COARSE: f64 = 0.1;
/// So much of the strength, in points, thinned by a dose is worth a word. Common practice, no source.
const THINS: f64 = 0.1;

impl Dose {
    pub(super) fn findings(&self, answer: &DoseAnswer) -> Vec<Finding> {
        let mut findings = Vec::new();
        let is_against_microbes =
            matches!(self.product.kind, ProductKind::Biocide | ProductKind::Fungicide);
        let most = self.product.label.and_then(|label| label.most);
        if is_against_microbes && most.is_none() && answer.dose.get() > 0.0 {
            let text = sentence!(
                "The largest dose on the label of {} is not given, so nothing here holds the dose \
                 against it. Read the label before you measure anything out: it is the law, and more \
                 than it allows harms people.",
                &self.product.name
            );
            findings.push(Finding::act("label-not-given", "/product/label", text));
        }
        if let Some((exact, measured)) = answer.volume.zip(answer.measured)
            && let Some(division) = self.jug_division
            && exact.get() > 0.0
            && ((measured.get() - exact.get()).abs() > TOO_COARSE * exact.get()
                || exact.get() < division.get() / 2.0)
        {
            let text = sentence!(
                "The jug is too coarse for this dose: {} are wanted, and its marks are {} apart. Take \
                 a smaller jug, or a scale.",
                exact.roughly(),
                division
            );
            findings.push(Finding::act("jug-too-coarse", "/jug_division", text));
        }
        if let Some(capacity) = self.sump.capacity
            && answer.after.volume.get() > capacity.get()
        {
            let text = sentence!(
                "The sump is full: with this dose it holds {}, more than its {}. Wait until it has \
                 lost that much.",
                answer.after.volume.measure().rounded(4),
                capacity
            );
            findings.push(Finding::act("overfills", "/sump/capacity", text));
        }
        if let Some((before, after)) = self.sump.concentration.zip(answer.after.concentration)
            && before.get() - after.get() >= THINS
        {
            let text = sentence!(
                "The dose thins the fluid from {} to {}: read it again, and top it up by what it \
                 reads.",
                before.roughly(),
                after.roughly()
            );
            findings.push(Finding::watch("dose-thins", "/sump/concentration", text));
        }
        if let (Some(days), Some(least), Some(between)) = (
            answer.lasts_days,
            self.lasts_to,
            self.product.label.and_then(|label| label.days_between),
        ) && days < between
        {
            let text = sentence!(
                "It falls to {} in {}, and the label asks for {} between two doses: for {} there is \
                 too little in it. Find what uses it up (dirt, oil, microbes) before you dose more.",
                least,
                days.measure().rounded(2),
                between,
                Days::measure_of(between.get() - days.get()).rounded(2)
            );
            findings.push(Finding::watch("does-not-last", "/product/label/days_between", text));
        }
        if answer.dose.get() == 0.0 && self.now.is_none() && self.last_dose.is_some() {
            let text = sentence!(
                "What is left of the last dose was worked out and not measured: {}. Measure it before \
                 you rely on it.",
                answer.now.roughly()
            );
            findings.push(Finding::note("not-measured", "/now", text));
        }
        findings
    }
}
