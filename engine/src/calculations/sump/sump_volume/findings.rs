//! What to look at before a volume is used.

use super::{SumpVolume, SumpVolumeAnswer};
use crate::fluid::practice;
use crate::numerics::digits::digits_apart;
use crate::quantity::{Quantity, Ratio};
use crate::sentence;
use crate::text::Finding;

impl SumpVolume {
    pub(super) fn findings(&self, answer: &SumpVolumeAnswer) -> Vec<Finding> {
        let mut findings: Vec<Finding> = disagreement(answer).into_iter().collect();
        if let Some(dilution) = &self.dilution {
            for (strength, pointer) in
                [(dilution.before, "/dilution/before"), (dilution.after, "/dilution/after")]
            {
                findings.extend(practice::unusual_strength(strength, pointer));
            }
        }
        findings
    }
}

/// Two volumes that are further apart than their uncertainty explains are not of the
/// same thing; which one is wrong, no average tells.
fn disagreement(answer: &SumpVolumeAnswer) -> Option<Finding> {
    answer.agreement.as_ref().filter(|agreement| !agreement.agree)?;
    let (shape, dilution) = (answer.by_shape.as_ref()?, answer.by_dilution.as_ref()?);
    let digits = digits_apart(shape.volume.get(), dilution.volume.get());
    let by_shape = shape.volume.measure().rounded(digits);
    let by_dilution = dilution.volume.measure().rounded(digits);
    let ratio = Ratio::measure_of(dilution.volume.get() / shape.volume.get()).rounded(2);
    let text = if dilution.volume > shape.volume {
        sentence!(
            "By its shape the sump holds {}, by dilution {} circulate, {} times as much: further apart \
         than the uncertainties explain, so that there is no figure to dose by. Likely \
         reasons: fluid in the chip bed, in pipes and the machine's bed, or in a tank that nobody \
         measured; a strength that was read too soon. Let it circulate for half an hour, read both \
         strengths again, measure what runs back when the pumps stop, and look for the rest.",
            by_shape,
            by_dilution,
            ratio
        )
    } else {
        sentence!(
            "By its shape the sump holds {}, by dilution only {} circulate, {} times as much: further \
         apart than the uncertainties explain, so that there is no figure to dose by. Likely \
         reasons: chips and sludge that take up room, a dead corner that does not mix, an addition \
         that was smaller or a level that was lower than noted. Let it circulate for half an hour, \
         read both strengths again, and sound the bed of chips with a rod.",
            by_shape,
            by_dilution,
            ratio
        )
    };
    Some(Finding::act("volumes-disagree", "", text))
}
