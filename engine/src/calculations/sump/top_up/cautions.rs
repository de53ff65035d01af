//! What can hurt in doing a top-up.

use super::{FilledVessel, TopUp, TopUpAction, TopUpStep};
use crate::text::Caution;

impl TopUp {
    /// What can hurt in doing these steps.
    pub(super) fn cautions(&self, steps: &[TopUpStep]) -> Vec<Caution> {
        let does =
            |actions: &[TopUpAction]| steps.iter().any(|step| actions.contains(&step.action));
        let mut cautions = Vec::new();
        if self.vessel() == FilledVessel::Sump && !steps.is_empty() {
            cautions.push(Caution::MACHINE);
        }
        cautions.push(Caution::SKIN_AND_MIST);
        if does(&[TopUpAction::StirIn]) {
            cautions.push(Caution::CONCENTRATE);
        }
        if does(&[TopUpAction::Drain]) {
            cautions.push(Caution::DRAINED_FLUID);
        }
        cautions
    }
}
