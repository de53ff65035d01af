//! What can hurt in filling a sump up, in draining some of it off, and in skimming it.

use super::rates::Followed;
use super::{MakeUp, MakeUpAnswer};
use crate::fluid::practice::names_nitrite;
use crate::quantity::Quantity;
use crate::text::Caution;

impl MakeUp {
    pub(super) fn cautions(&self, answer: &MakeUpAnswer, followed: &[Followed]) -> Vec<Caution> {
        let mut cautions = vec![Caution::MACHINE, Caution::SKIN_AND_MIST, Caution::BREATHING];
        if answer.concentration.is_some_and(|c_m| c_m.get() > 0.0) {
            cautions.push(Caution::CONCENTRATE);
        }
        if names_nitrite(followed.iter().map(|property| property.name.as_str())) {
            cautions.push(Caution::NITROSAMINES);
        }
        let discharges = answer.remedies.is_some_and(|remedies| remedies.discharge.is_some());
        if discharges || self.discharge.is_some_and(|rate| rate.get() > 0.0) {
            cautions.push(Caution::DRAINED_FLUID);
        }
        let skims = answer.remedies.is_some_and(|remedies| remedies.skimmer.is_some());
        if skims || self.oil.is_some_and(|oil| oil.skims() > 0.0) {
            cautions.push(Caution::SKIMMINGS_AND_SLUDGE);
        }
        cautions
    }
}
