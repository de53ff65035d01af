//! The statement: what to do, by when, why, what else, and what is not known.

use super::answer::{CareAction, ConditionAnswer, Observation};
use super::decision::CareRule;
use super::judging::Judged;
use super::question::Condition;
use super::rules::{Care, called};
use crate::quantity::{Days, Quantity};
use crate::sentence;
use crate::text::{Sentence, listed};

/// So many reasons are told; of the rest, how many there are, the answer says.
const TOLD: usize = 3;

impl Condition {
    pub(super) fn in_short(answer: &ConditionAnswer) -> Sentence {
        let care = Care {
            action: answer.decision,
            product: answer.product,
            within: answer.within_days.get(),
        };
        let decision = decision(care, TopUpFor::of(answer));
        let reasons: Vec<Sentence> =
            answer.reasons.iter().take(TOLD).map(|reason| reason.text.clone()).collect();
        let first = match (care.action, reasons.is_empty()) {
            (CareAction::CarryOn, true) => {
                sentence!("Carry on: nothing that was observed wants anything.")
            }
            (CareAction::CarryOn, false) => {
                sentence!("Carry on, and keep an eye on it: {}.", joined(reasons))
            }
            _ => sentence!("{}: {}.", decision, joined(reasons)),
        };
        let besides: Vec<Sentence> = answer
            .besides
            .iter()
            .map(|besides| {
                let within = besides.within_days.get();
                let care = Care { action: besides.action, product: besides.product, within };
                sentence!("{} {}", care.words(), by(within))
            })
            .collect();
        let besides = if besides.is_empty() {
            sentence!("")
        } else {
            sentence!(" Besides: {}.", listed(besides))
        };
        let unknown: Vec<Sentence> = answer
            .missing
            .iter()
            .map(|missing| sentence!("{}", called(missing.observation)))
            .collect();
        let unknown = if unknown.is_empty() {
            sentence!("")
        } else {
            sentence!(" Not known: {}.", listed(unknown))
        };
        sentence!("{}{}{}", first, besides, unknown)
    }
}

/// What a sump is topped up for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum TopUpFor {
    /// Its strength is out of its band.
    Strength,
    /// It carries too much salt.
    Salt,
    /// Something else, and its strength may be right.
    Other,
}

impl TopUpFor {
    pub(super) fn of(answer: &ConditionAnswer) -> Self {
        let mut observed = answer.reasons.iter().map(|reason| reason.observation);
        if observed.clone().any(|one| one == Observation::Strength) {
            Self::Strength
        } else if observed.len() > 0 && observed.all(is_salt) {
            Self::Salt
        } else {
            Self::Other
        }
    }
}

/// Whether an observation is of salts, which only other water thins.
const fn is_salt(observation: Observation) -> bool {
    matches!(
        observation,
        Observation::Conductivity
            | Observation::Chloride
            | Observation::Hardness
            | Observation::NitrateOfWater
    )
}

fn joined(reasons: Vec<Sentence>) -> Sentence {
    let mut reasons = reasons.into_iter();
    let first = reasons.next().unwrap_or_else(|| sentence!("see the observations"));
    reasons.fold(first, |all, next| sentence!("{}; {}", all, next))
}

/// "today", "within a day", "within 7 days".
fn by(within: f64) -> Sentence {
    if within <= 0.0 {
        sentence!("today")
    } else if within <= 1.0 {
        sentence!("within a day")
    } else {
        sentence!("within {}", Days::measure_of(within))
    }
}

/// What to do and by when, as the first words of the statement.
pub(super) fn decision(care: Care, top_up_for: TopUpFor) -> Sentence {
    let by = by(care.within);
    match care.action {
        CareAction::CarryOn => sentence!("Carry on"),
        CareAction::TopUp => match top_up_for {
            TopUpFor::Strength => sentence!("Bring it back into its band {}", by),
            TopUpFor::Salt => sentence!("Top it up with water that brings less salt, {}", by),
            TopUpFor::Other => sentence!("Read it, and bring it into its band {}", by),
        },
        CareAction::Circulate => {
            sentence!("Let it circulate and take air {}, then look again", by)
        }
        CareAction::Skim => sentence!("Skim the oil off {}, then read it again", by),
        CareAction::Dose => {
            sentence!("{} {}, by its label and its supplier's advice", capital(care.words()), by)
        }
        CareAction::Recycle => sentence!("Bring the fluid to the recycler {}", by),
        CareAction::DipSlide => {
            sentence!("Dip a slide {}, and do not correct the pH before it is read", by)
        }
        CareAction::CleanOut => sentence!("Clean it out and fill it anew {}", by),
        CareAction::Dispose => sentence!(
            "Drain it to disposal, not to the recycler, clean it out and fill it anew {}",
            by
        ),
        CareAction::StopAndAsk => {
            sentence!("Stop work at this sump and ask somebody who is trained for it, {}", by)
        }
    }
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

impl CareRule {
    /// Why it applies, by what was observed.
    pub(super) fn because(self, judged: &[Judged]) -> Sentence {
        match self {
            Self::Alone(row) => judged
                .iter()
                .find(|one| one.row == Some(row))
                .map_or_else(|| sentence!("{}", row.boundary), |one| one.text.clone()),
            Self::Both(together) => sentence!("{}", together.means),
        }
    }
}
