//! What can hurt in the ways of working that are compared.

use super::CostComparison;
use crate::text::Caution;

impl CostComparison {
    pub(super) fn cautions(&self) -> Vec<Caution> {
        let running = || {
            let purchases = self.ways.iter().flat_map(|way| way.purchases.iter().flatten());
            purchases.filter_map(|purchase| purchase.running.as_ref())
        };
        let mut cautions = vec![Caution::NO_PERMISSION];
        if running().any(|running| running.power.is_some()) {
            cautions.push(Caution::ELECTRICAL_WORK);
        }
        if running().any(|running| running.fuel.is_some()) {
            cautions.push(Caution::ENGINE_EXHAUST);
        }
        cautions
    }
}
