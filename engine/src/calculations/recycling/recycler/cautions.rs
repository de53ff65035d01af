//! What can hurt in recycling a batch and correcting it.

use super::correction::Corrected;
use super::{BacteriaBand, Recycler, RecyclerAnswer, RecyclerStage, StageRemoval, StageWasteKind};
use crate::fluid::practice::{PREMIX_AT_MOST, names_nitrite};
use crate::fluid::stock::{Stock, property_names};
use crate::quantity::Quantity;
use crate::text::Caution;

impl Recycler {
    /// What can hurt in running the line and correcting its fluid as told.
    pub(super) fn cautions(
        &self,
        removed: &[StageRemoval],
        answer: &RecyclerAnswer,
        corrected: &Corrected,
    ) -> Vec<Caution> {
        let poured = corrected.stocks.iter().zip(&corrected.poured).skip(1);
        let poured: Vec<&Stock> =
            poured.filter(|(_, fluid)| fluid.volume > 0.0).map(|(stock, _)| stock).collect();
        let strong = |stock: &&Stock| stock.concentration.get() > PREMIX_AT_MOST;
        let kills = self.stages.iter().any(|stage| stage.kills.is_some());
        let microbes = answer.bacteria.is_some_and(|bacteria| bacteria.band == BacteriaBand::Poor);
        let solids = self.takes_solids_out(removed);
        let carried = property_names(&self.feed.properties);
        let mut cautions = vec![Caution::SKIN_AND_MIST, Caution::SKIMMINGS_AND_SLUDGE];
        let mut when = |told: bool, caution| {
            if told {
                cautions.push(caution);
            }
        };
        let several = self.arrivals().len() > 1;
        let mixes = several || poured.iter().any(|stock| stock.concentration.get() > 0.0);
        when(mixes, Caution::INCOMPATIBLE_FLUIDS);
        when(self.tanks.is_some(), Caution::OVERFILLING);
        when(poured.iter().any(strong), Caution::CONCENTRATE);
        when(microbes, Caution::BREATHING);
        when(microbes, Caution::BAD_AIR);
        when(solids, Caution::METALS_IN_FLUID);
        when(solids, Caution::METAL_FINES);
        when(self.stages.iter().any(RecyclerStage::spins), Caution::SPINNING_MACHINERY);
        when(kills, Caution::HEAT_AND_BIOCIDE);
        when(kills || microbes, Caution::BIOCIDE);
        when(names_nitrite(carried), Caution::NITROSAMINES);
        cautions
    }

    /// Whether a stage gives sludge: it takes out what is no oil.
    fn takes_solids_out(&self, removed: &[StageRemoval]) -> bool {
        self.stages.iter().zip(removed).any(|(stage, removed)| {
            let sludge = stage.waste.is_none_or(|kind| kind == StageWasteKind::Sludge);
            sludge && removed.matter.values().any(|share| share.get() > 0.0)
        })
    }
}
