//! The round on paper: what is moved first, how each premix is made, and where it goes.

use super::answer::TopUpRoundAnswer;
use super::step::{TopUpRoundAction, TopUpRoundStep};
use super::{PremixToMake, TopUpRound};
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::{Count, Quantity};
use crate::sentence;
use crate::text::Sentence;

/// What steps that stand together are about.
#[derive(Debug, Clone, Copy, PartialEq)]
enum RoundPart {
    Moves,
    Making(Count),
    Trip(Count, Count),
    Pouring(Count),
    Out,
}

impl RoundPart {
    fn of(step: &TopUpRoundStep) -> Self {
        match (step.action, step.premix, step.trip) {
            (TopUpRoundAction::MoveFluid, ..) => Self::Moves,
            (_, Some(premix), Some(trip)) => Self::Trip(trip, premix),
            (TopUpRoundAction::PourIn, Some(premix), None) => Self::Pouring(premix),
            (_, Some(premix), None) => Self::Making(premix),
            _ => Self::Out,
        }
    }
}

impl TopUpRound {
    pub(super) fn job_sheet(answer: &TopUpRoundAnswer) -> JobSheet {
        let parts = answer.steps.chunk_by(|a, b| RoundPart::of(a) == RoundPart::of(b));
        let parts = parts.map(|steps| {
            let heading = heading(answer, RoundPart::of(&steps[0]));
            SheetPart::headed(heading, steps.iter().map(task).collect())
        });
        let mut notes = Vec::new();
        if !answer.premixes.is_empty() {
            notes.push(sentence!(
                "At each machine: lock it out before you reach in, pour slowly where the fluid returns, \
                 watch the level, let it circulate, read it again and write the reading down."
            ));
        }
        if !answer.moves.is_empty() {
            notes.push(sentence!(
                "Fluid that is moved is good fluid: look at it and smell it before it goes into \
                 another sump, and leave it where it is if in doubt."
            ));
        }
        JobSheet { parts: parts.collect(), notes, records: SheetRecords::Once }
    }
}

fn heading(answer: &TopUpRoundAnswer, part: RoundPart) -> Sentence {
    match part {
        RoundPart::Moves => sentence!("First: move good fluid"),
        RoundPart::Making(number) => sentence!("Premix {}: {}", number, of_premix(answer, number)),
        RoundPart::Pouring(number) => {
            sentence!("Premix {}, in the order of the walk", number)
        }
        RoundPart::Trip(trip, number) => {
            sentence!("Trip {}: premix {}, {}", trip, number, of_premix(answer, number))
        }
        RoundPart::Out => sentence!("Not brought into their bands on this round"),
    }
}

/// "product A at 7.5 %".
fn of_premix(answer: &TopUpRoundAnswer, number: Count) -> Sentence {
    match answer.premixes.get(number.whole().saturating_sub(1)) {
        Some(PremixToMake { product, concentration, .. }) if concentration.get() > 0.0 => {
            sentence!("{} at {}", product, concentration.roughly())
        }
        _ => sentence!("water"),
    }
}

fn task(step: &TopUpRoundStep) -> SheetTask {
    let task = SheetTask::of(step.text.clone());
    let task = match (&step.sump, step.action) {
        (Some(sump), TopUpRoundAction::PourIn) => task.at(sump.as_str()),
        _ => task,
    };
    let reads = step.action == TopUpRoundAction::PourIn && step.concentration.is_some();
    if reads { task.read() } else { task }
}
