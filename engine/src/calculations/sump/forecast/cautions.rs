//! What can hurt in feeding and draining a sump.

use super::Forecast;
use super::plan::Planned;
use crate::fluid::practice::names_nitrite;
use crate::fluid::properties::PropertyName;
use crate::quantity::Quantity;
use crate::text::Caution;

impl Forecast {
    pub(super) fn cautions(&self, planned: &Planned) -> Vec<Caution> {
        let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST, Caution::BREATHING];
        if self.feeding.as_ref().is_some_and(|feeding| !feeding.is_water()) {
            cautions.push(Caution::CONCENTRATE);
        }
        if names_nitrite(planned.names.iter().map(PropertyName::as_str)) {
            cautions.push(Caution::NITROSAMINES);
        }
        let changes = self.changes.iter().flatten();
        let removes = changes.into_iter().any(|change| change.removed.is_some());
        if removes || self.discharge.is_some_and(|rate| rate.get() > 0.0) {
            cautions.push(Caution::DRAINED_FLUID);
        }
        cautions
    }
}
