//! What can hurt in measuring a sump.

use super::SumpVolumeAnswer;
use crate::fluid::practice::LARGE_SUMP;
use crate::quantity::Quantity;
use crate::text::Caution;

pub(super) fn cautions(answer: &SumpVolumeAnswer) -> Vec<Caution> {
    let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST];
    let estimates = [answer.by_shape.as_ref(), answer.by_dilution.as_ref()];
    let found = estimates.into_iter().flatten().map(|estimate| estimate.volume);
    if found.chain(answer.at_brim).any(|volume| volume.get() >= LARGE_SUMP) {
        cautions.push(Caution::CONFINED_SPACE);
    }
    cautions
}
