//! The steps of a dose.

use super::{Dose, DoseAnswer, DoseStep, ProductKind};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::Sentence;

impl Dose {
    /// What to do, in order; nothing where no dose is needed.
    pub(super) fn steps(&self, answer: &DoseAnswer) -> Vec<DoseStep> {
        if answer.dose.get() == 0.0 {
            return Vec::new();
        }
        let name = &self.product.name;
        let mut steps = vec![sentence!(
            "Read the label and the safety data sheet of {}, and put on the gloves and the eye \
             protection that they name.",
            name
        )];
        steps.push(match answer.measured {
            Some(measured) => {
                sentence!("Measure {} of {} in a jug that is kept for it alone.", measured, name)
            }
            None => {
                sentence!(
                    "Weigh {} of {} in a vessel that is kept for it alone.",
                    answer.mass.roughly(),
                    name
                )
            }
        });
        steps.push(self.pouring());
        steps.push(match self.product.kind {
            ProductKind::SystemCleaner => sentence!(
                "Let it circulate for as long as the label says, then drain the sump as waste and \
                 rinse it."
            ),
            ProductKind::PhAdjuster => sentence!(
                "Let it circulate and measure the pH before each further third. Stop as soon as the \
                 pH is what the fluid's sheet asks for."
            ),
            _ => sentence!("Let it circulate until it is well mixed before anybody takes a sample."),
        });
        steps.push(sentence!(
            "Write down what was dosed, how much, when and by whom, and put a note on the machine where \
             the label asks for one."
        ));
        steps.into_iter().map(|text| DoseStep { text }).collect()
    }

    fn pouring(&self) -> Sentence {
        if self.product.kind == ProductKind::PhAdjuster {
            return sentence!(
                "With the pump running, pour a third of it in slowly where the fluid returns."
            );
        }
        sentence!(
            "With the pump running and the machine doors shut, pour it in slowly where the fluid \
             returns, away from parts and from the pump's suction."
        )
    }
}
