//! What can hurt at this sump and in what is decided.

use super::answer::{CareAction, Observation};
use super::decision::Decided;
use super::judging::Judged;
use crate::text::Caution;

pub(super) fn cautions(judged: &[Judged], decided: &Decided) -> Vec<Caution> {
    let wants = |observation: Observation| {
        judged.iter().any(|one| one.observation == observation && one.row.is_some())
    };
    let besides = decided.besides();
    let does = |action: CareAction| {
        decided.care.action == action || besides.iter().any(|rule| rule.care().action == action)
    };
    let mut cautions = Vec::new();
    if wants(Observation::Smell) || wants(Observation::StandingStill) {
        cautions.push(Caution::BAD_AIR);
    }
    if wants(Observation::Skin) || wants(Observation::Bacteria) || wants(Observation::Fungi) {
        cautions.push(Caution::BREATHING);
    }
    if wants(Observation::Skin) {
        cautions.push(Caution::NO_DOSE_AGAINST_SKIN);
    }
    if wants(Observation::Nitrite) {
        cautions.push(Caution::NITROSAMINES);
    }
    if does(CareAction::Dose) {
        cautions.extend([Caution::ADDITIVE, Caution::BIOCIDE]);
    }
    if does(CareAction::CleanOut) || does(CareAction::Dispose) || does(CareAction::Recycle) {
        cautions.push(Caution::DRAINED_FLUID);
    }
    if does(CareAction::TopUp) {
        cautions.push(Caution::CONCENTRATE);
    }
    cautions.extend([Caution::MACHINE, Caution::SKIN_AND_MIST]);
    cautions
}
