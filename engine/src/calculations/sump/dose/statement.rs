//! The statement: what to measure out, what it comes to, and how long it lasts.

use super::{Dose, DoseAnswer};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::Sentence;

impl Dose {
    pub(super) fn in_short(&self, answer: &DoseAnswer) -> Sentence {
        sentence!("{}{}", self.poured(answer), self.then(answer))
    }

    fn poured(&self, answer: &DoseAnswer) -> Sentence {
        let name = &self.product.name;
        if answer.dose.get() == 0.0 {
            return sentence!(
                "No dose: there are still {} in the sump, and {} are wanted.",
                answer.now.roughly(),
                self.wanted
            );
        }
        let comes_to = answer.after.content.roughly();
        match answer.measured {
            Some(measured) => sentence!(
                "Measure out {} of {} ({}) for the {} in the sump: it then has {}.",
                measured,
                name,
                answer.mass.roughly(),
                self.sump.volume,
                comes_to
            ),
            None => sentence!(
                "Weigh out {} of {} for the {} in the sump: it then has {}.",
                answer.mass.roughly(),
                name,
                self.sump.volume,
                comes_to
            ),
        }
    }

    fn then(&self, answer: &DoseAnswer) -> Sentence {
        let Some(least) = self.lasts_to else { return sentence!("") };
        match answer.lasts_days {
            Some(days) if days.get() == 0.0 => {
                sentence!(" That is no more than {} already.", least)
            }
            Some(days) => {
                sentence!(" It falls to {} in {}.", least, days.measure().rounded(2))
            }
            None => sentence!(" Nothing said here thins it or uses it up."),
        }
    }
}
