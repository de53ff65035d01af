//! The checks of a request for a dose: what contradicts itself, and what the label forbids.

use super::Dose;
use crate::quantity::{Content, Days, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};

/// What ends on a bound, but for rounding, keeps to it.
const ROUNDING: f64 = 1e-9;

impl Dose {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        self.losses.map_or(Ok(()), |losses| losses.check("/losses"))?;
        let mut faults = Faults::default();
        if let Some(capacity) = self.sump.capacity.filter(|full| *full < self.sump.volume) {
            faults.add(
                "/sump/volume",
                sentence!(
                    "The sump holds {} when it is full, and {} are said to be in it. Correct one of \
                     the two.",
                    capacity,
                    self.sump.volume
                ),
            );
        }
        if self.product.active_share.is_some_and(|share| share.get() == 0.0) {
            let text = "A product without any active substance does nothing. Give its share by mass, \
                        or leave the member out where contents count the product as it is.";
            faults.add("/product/active_share", sentence!("{}", text));
        }
        if self.product.half_life_days.is_some_and(|days| days.get() == 0.0) {
            let text = "A half-life of no days leaves nothing of a dose. Give the days, or leave the \
                        member out where none is used up.";
            faults.add("/product/half_life_days", sentence!("{}", text));
        }
        if self.now.is_some() && self.last_dose.is_some_and(|last| last.days_ago.get() == 0.0) {
            let text = "A dose that was poured just now is in what was measured now. Give one of the \
                        two.";
            faults.add("/last_dose/days_ago", sentence!("{}", text));
        }
        let label = self.product.label;
        if let Some((least, most)) = label.and_then(|label| label.least.zip(label.most))
            && least > most
        {
            faults.add(
                "/product/label/least",
                sentence!("The label's least dose, {}, is above its largest, {}.", least, most),
            );
        }
        if let Some(least) = self.lasts_to.filter(|least| *least > self.wanted) {
            faults.add(
                "/lasts_to",
                sentence!(
                    "It is said to work down to {}, which is more than the {} wanted. Want at least \
                     that much, or correct it.",
                    least,
                    self.wanted
                ),
            );
        }
        faults.or_refuse(Kind::Inconsistent)
    }

    /// Refuses a dose of `d` mg of product for each litre that the label does not allow.
    pub(super) fn check_label(&self, d: f64) -> Result<(), Refusal> {
        let Some(label) = self.product.label.filter(|_| d > 0.0) else { return Ok(()) };
        let (dose, name) = (Content::measure_of(d).rounded(4), &self.product.name);
        if let Some(most) = label.most.filter(|most| d > most.get() * (1.0 + ROUNDING)) {
            let reached = self.content_now() + self.active() * most.get();
            let detail = sentence!(
                "This takes {} of {} in one dose, and its label allows {}. The label is \
                 the law here: at most {} can be reached with this dose, and more only with later ones, \
                 if the label allows them.",
                dose,
                name,
                most,
                Content::measure_of(reached).rounded(4)
            );
            return Err(Refusal::new(Kind::Unreachable, "/wanted", detail));
        }
        if let Some(least) = label.least.filter(|least| d < least.get() * (1.0 - ROUNDING)) {
            let detail = sentence!(
                "This would take {} of {}, less than the {} that its label has as the \
                 least dose: too little does not work, and what survives it grows resistant. Dose \
                 later, when less is left, or ask for more, within the label.",
                dose,
                name,
                least
            );
            return Err(Refusal::new(Kind::Unreachable, "/wanted", detail));
        }
        if let Some((between, last)) = label.days_between.zip(self.last_dose)
            && last.days_ago < between
        {
            let wait = between.get() - last.days_ago.get();
            let detail = sentence!(
                "{} was dosed {} ago, and its label asks for {} between two doses: dose again in {} at the earliest.",
                name,
                last.days_ago,
                between,
                Days::measure_of(wait).rounded(3)
            );
            return Err(Refusal::new(Kind::Unreachable, "/last_dose/days_ago", detail));
        }
        Ok(())
    }
}
