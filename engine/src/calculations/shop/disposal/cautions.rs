//! What can hurt in handling the waste of a projection.

use super::{Disposal, DisposalAnswer, MetalCut, WasteStream};
use crate::fluid::practice::LARGE_SUMP;
use crate::quantity::Quantity;
use crate::text::Caution;

impl Disposal {
    /// What can hurt in what the projection tells to do.
    pub(super) fn cautions(&self, answer: &DisposalAnswer) -> Vec<Caution> {
        let has = |stream| answer.streams.iter().any(|overall| overall.stream == stream);
        let fluid = [
            WasteStream::SpentFluid,
            WasteStream::WashWater,
            WasteStream::Retentate,
            WasteStream::OilPhase,
            WasteStream::Sludge,
            WasteStream::FilterMedia,
        ];
        let cuts = self.facts.and_then(|facts| facts.metal);
        let mut cautions = vec![Caution::WASTE_DETERMINATION, Caution::STORAGE_AND_TRANSPORT];
        let mut when = |told: bool, caution| {
            if told {
                cautions.push(caution);
            }
        };
        let to_sewer = [WasteStream::Permeate, WasteStream::WashWater];
        when(to_sewer.into_iter().any(has), Caution::SEWER_PERMIT);
        when(answer.months.iter().any(|month| month.changes.get() > 0.0), Caution::DRAINED_FLUID);
        when(fluid.into_iter().any(has), Caution::SKIN_AND_MIST);
        let sludge = has(WasteStream::Sludge);
        let large = self.groups.iter().any(|group| group.volume.get() >= LARGE_SUMP);
        when(sludge, Caution::BAD_AIR);
        when(sludge && large, Caution::CONFINED_SPACE);
        let chips = has(WasteStream::CarriedOff) || sludge;
        when(chips, Caution::SHARP_CHIPS);
        when(sludge && cuts != Some(MetalCut::NonFerrous), Caution::METALS_IN_FLUID);
        when(chips && cuts != Some(MetalCut::Ferrous), Caution::METAL_FINES);
        cautions
    }
}
