//! What can hurt in taking samples.

use super::answer::{FluidTest, TestPlanAnswer};
use crate::text::Caution;

pub(super) fn cautions(answer: &TestPlanAnswer) -> Vec<Caution> {
    let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST];
    if answer.due.iter().any(|due| due.test == FluidTest::Look) {
        cautions.push(Caution::BAD_AIR);
    }
    if answer.due.iter().any(|due| due.test == FluidTest::CleanOut) {
        cautions.push(Caution::DRAINED_FLUID);
    }
    cautions
}
