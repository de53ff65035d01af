//! What can hurt in running the loop as it is told.

use super::FluidLoop;
use super::shop::LoopShop;
use crate::fluid::practice::names_nitrite;
use crate::fluid::properties::PropertyName;
use crate::text::Caution;

impl FluidLoop {
    pub(super) fn cautions(&self, shop: &LoopShop) -> Vec<Caution> {
        let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST, Caution::BREATHING];
        let mut when = |told: bool, caution| {
            if told {
                cautions.push(caution);
            }
        };
        when(shop.recycles && self.groups.len() > 1, Caution::INCOMPATIBLE_FLUIDS);
        when(self.tanks.is_some(), Caution::OVERFILLING);
        let cleaned = self.groups.iter().any(|group| group.clean_out.is_some());
        when(cleaned, Caution::DRAINED_FLUID);
        when(shop.recycles, Caution::SKIMMINGS_AND_SLUDGE);
        when(names_nitrite(shop.names.iter().map(PropertyName::as_str)), Caution::NITROSAMINES);
        cautions
    }
}
