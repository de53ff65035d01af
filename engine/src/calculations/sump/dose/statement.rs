//! The statement: what to measure out, what it comes to, and how long it lasts.

use super::{Dose, DoseAnswer, ProductKind};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::Sentence;

impl Dose {
    pub(super) fn in_short(&self, answer: &DoseAnswer) -> Sentence {
        sentence!("{}{}{}", self.poured(answer), self.in_parts(answer), self.then(answer))
    }

    fn poured(&self, answer: &DoseAnswer) -> Sentence {
        let name = &self.product.name;
        if answer.dose.get() == 0.0 {
            return sentence!(
                "No dose is needed: there are still {} in the sump, and {} are wanted.",
                answer.now.roughly(),
                self.wanted
            );
        }
        let comes_to = answer.after.content.roughly();
        match answer.measured {
            Some(measured) => sentence!(
                "Measure out {} of {} ({}) for the {} in the sump: it then holds {}.",
                measured,
                name,
                answer.mass.roughly(),
                self.sump.volume,
                comes_to
            ),
            None => sentence!(
                "Weigh out {} of {} for the {} in the sump: it then holds {}.",
                answer.mass.roughly(),
                name,
                self.sump.volume,
                comes_to
            ),
        }
    }

    /// No balance tells how far a pH moves: whoever reads no further still measures in between.
    fn in_parts(&self, answer: &DoseAnswer) -> Sentence {
        if self.product.kind == ProductKind::PhAdjuster && answer.dose.get() > 0.0 {
            sentence!(" Pour it in a third at a time, and measure the pH before each.")
        } else {
            sentence!("")
        }
    }

    fn then(&self, answer: &DoseAnswer) -> Sentence {
        let Some(least) = self.lasts_to else { return sentence!("") };
        match answer.lasts_days {
            Some(days) if days.get() == 0.0 => {
                sentence!(" That is not above the {} down to which it works.", least)
            }
            Some(days) => {
                sentence!(" It falls to {} in {}.", least, days.measure().rounded(2))
            }
            None => sentence!(
                " How long it lasts is not known: nothing was given that thins it or uses it up."
            ),
        }
    }
}
