//! What can hurt in doing what a plan of supplies says.

use super::answer::SuppliesAnswer;
use crate::text::Caution;

pub(super) fn cautions(answer: &SuppliesAnswer) -> Vec<Caution> {
    let wasted = answer.supplies.iter().any(|own| !own.wasted.is_empty());
    if wasted { vec![Caution::WASTE_DETERMINATION] } else { Vec::new() }
}
