//! What can hurt in dosing something into a sump.

use super::{Dose, ProductKind};
use crate::text::Caution;

impl Dose {
    pub(super) fn cautions(&self) -> Vec<Caution> {
        let mut cautions = vec![Caution::ADDITIVE];
        if matches!(
            self.product.kind,
            ProductKind::Biocide | ProductKind::Fungicide | ProductKind::SystemCleaner
        ) {
            cautions.push(Caution::BIOCIDE);
        }
        if self.product.kind == ProductKind::PhAdjuster {
            cautions.push(Caution::CAUSTIC);
        }
        cautions.push(Caution::NO_DOSE_AGAINST_SKIN);
        cautions.extend([Caution::MACHINE, Caution::SKIN_AND_MIST]);
        cautions
    }
}
