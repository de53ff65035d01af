//! What a decision takes for granted.

use super::question::Condition;
use crate::fluid::practice;
use crate::sentence;
use crate::text::Assumption;

impl Condition {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::new(
            "",
            sentence!(
                "What was not observed was taken to be as it should be; what is missing to decide is \
                 named in the answer."
            ),
        )];
        if let Some(reading) = &self.reading {
            assumptions.extend(reading.assumptions("/reading"));
        }
        if self.bacteria.is_some() {
            assumptions.push(practice::of_bands("/bacteria/count"));
        }
        if self.hardness.is_some() {
            assumptions.extend(practice::of_hardness(["hardness"]));
        }
        if let Some(losses) = &self.losses {
            assumptions.extend(losses.assumptions("/losses"));
        }
        if self.sheet.is_none() {
            let text = sentence!(
                "The published boundaries were used. The fluid's own sheet may be stricter, and its \
                 chloride, and how much it may conduct, are judged by that sheet alone."
            );
            assumptions.push(Assumption::new("/sheet", text));
        }
        assumptions
    }
}
