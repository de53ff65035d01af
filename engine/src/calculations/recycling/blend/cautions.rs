//! What can hurt in making a batch.

use super::Blend;
use crate::fluid::Fluid;
use crate::fluid::practice::{PREMIX_AT_MOST, names_biocide, names_nitrite};
use crate::fluid::stock::Stock;
use crate::quantity::Quantity;
use crate::text::Caution;

impl Blend {
    /// What can hurt in pouring what is told.
    pub(super) fn cautions(&self, poured: &[Fluid]) -> Vec<Caution> {
        let taken = || self.stocks.iter().zip(poured).filter(|(_, fluid)| fluid.volume > 0.0);
        let biocide = taken().any(|(stock, _)| names_biocide(&stock.name));
        let strong = |(stock, _): &(&Stock, &Fluid)| stock.concentration.get() > PREMIX_AT_MOST;
        let fluids = taken().filter(|(stock, _)| stock.concentration.get() > 0.0).count();
        let carried = taken().flat_map(|(stock, _)| stock.names());
        let mut cautions = Vec::new();
        let mut when = |told: bool, caution| {
            if told {
                cautions.push(caution);
            }
        };
        when(taken().any(|taken| strong(&taken)), Caution::CONCENTRATE);
        when(fluids > 0, Caution::SKIN_AND_MIST);
        when(fluids > 1, Caution::INCOMPATIBLE_FLUIDS);
        when(biocide, Caution::BIOCIDE);
        when(names_nitrite(carried), Caution::NITROSAMINES);
        cautions
    }
}
