//! What can hurt on a round of top-ups: no more than what its steps say to do.

use super::answer::TopUpRoundAnswer;
use super::{TopUpRound, TopUpRoundAction};
use crate::quantity::Quantity;
use crate::text::Caution;

impl TopUpRound {
    pub(super) fn cautions(answer: &TopUpRoundAnswer) -> Vec<Caution> {
        let does = |actions: &[TopUpRoundAction]| {
            answer.steps.iter().any(|step| actions.contains(&step.action))
        };
        let mut cautions = Vec::new();
        if does(&[TopUpRoundAction::PourIn, TopUpRoundAction::MoveFluid]) {
            cautions.extend([Caution::MACHINE, Caution::OVERFILLING]);
        }
        cautions.push(Caution::SKIN_AND_MIST);
        let draws = answer.premixes.iter().any(|own| own.concentration.get() > 0.0);
        if does(&[TopUpRoundAction::StirIn]) || draws && does(&[TopUpRoundAction::DrawPremix]) {
            cautions.push(Caution::CONCENTRATE);
        }
        cautions
    }
}
