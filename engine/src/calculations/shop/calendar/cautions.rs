//! What can hurt in the clean-outs of a calendar.

use super::question::Calendar;
use crate::fluid::practice::LARGE_SUMP;
use crate::quantity::Quantity;
use crate::text::Caution;

impl Calendar {
    pub(super) fn cautions(&self) -> Vec<Caution> {
        let mut cautions = vec![
            Caution::MACHINE,
            Caution::SKIN_AND_MIST,
            Caution::BAD_AIR,
            Caution::DRAINED_FLUID,
        ];
        if self.sumps.iter().any(|sump| sump.volume.get() >= LARGE_SUMP) {
            cautions.push(Caution::CONFINED_SPACE);
        }
        if self.recycler.is_some() {
            cautions.push(Caution::OVERFILLING);
            cautions.push(Caution::INCOMPATIBLE_FLUIDS);
        }
        if self.waste.is_some_and(|waste| waste.categories.is_some()) {
            cautions.push(Caution::WASTE_DETERMINATION);
        }
        if self.limits_pickups() {
            cautions.push(Caution::STORAGE_AND_TRANSPORT);
        }
        cautions
    }
}
