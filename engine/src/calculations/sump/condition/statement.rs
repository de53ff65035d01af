//! The statement: what to do, by when, why, what else, and what is not known.

use super::answer::{CareAction, ConditionAnswer, FurtherCare, Observation};
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
                sentence!("Carry on: what was observed is as it should be.")
            }
            (CareAction::CarryOn, false) => {
                sentence!("Carry on, and keep an eye on it: {}.", joined(reasons))
            }
            _ => sentence!("{}: {}.", decision, joined(reasons)),
        };
        // What is due before the decision is told before what may wait.
        let (before, also): (Vec<_>, Vec<_>) =
            answer.besides.iter().partition(|one| one.within_days < answer.within_days);
        let before =
            besides(&before).map_or(sentence!(""), |told| sentence!(" Before that: {}.", told));
        let also = besides(&also).map_or(sentence!(""), |told| sentence!(" Also: {}.", told));
        // Where persons come first nobody is sent there to test anything.
        let is_stopped = care.action == CareAction::StopAndAsk;
        let unknown: Vec<Sentence> = answer
            .missing
            .iter()
            .filter(|_| !is_stopped)
            .map(|missing| sentence!("{}", called(missing.observation)))
            .collect();
        let unknown = if unknown.is_empty() {
            sentence!("")
        } else {
            sentence!(" Not known or too old: {}.", listed(unknown))
        };
        sentence!("{}{}{}{}", first, before, also, unknown)
    }
}

/// What else is to be done, each with its day; none where there is nothing.
fn besides(of: &[&FurtherCare]) -> Option<Sentence> {
    let told: Vec<Sentence> = of
        .iter()
        .map(|one| {
            let within = one.within_days.get();
            let care = Care { action: one.action, product: one.product, within };
            sentence!("{} {}", care.words(), by(within))
        })
        .collect();
    (!told.is_empty()).then(|| listed(told))
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
        Self::by(answer.reasons.iter().map(|reason| reason.observation))
    }

    /// What it is topped up for besides, by the observation that says the same.
    pub(super) fn besides(answer: &ConditionAnswer, besides: &FurtherCare) -> Self {
        let observed = answer.observations.iter().filter(|one| one.text == besides.text);
        Self::by(observed.map(|one| one.observation).collect::<Vec<_>>().into_iter())
    }

    fn by(mut observed: impl ExactSizeIterator<Item = Observation> + Clone) -> Self {
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
            TopUpFor::Salt => sentence!("Top it up {} with water that brings less salt", by),
            TopUpFor::Other => sentence!("Read its strength, and bring it into its band {}", by),
        },
        CareAction::Circulate => {
            sentence!("Let it circulate and take air {}, then look again", by)
        }
        CareAction::Skim => sentence!("Skim the oil off {}, then read the strength again", by),
        CareAction::Dose => {
            sentence!("{} {}, by its label and its supplier's advice", capital(care.words()), by)
        }
        CareAction::Recycle => sentence!("Bring the fluid to the recycler {}", by),
        CareAction::DipSlide => {
            sentence!("Dip a slide {}, and do not correct the pH before it is read", by)
        }
        CareAction::CleanOut => sentence!("Clean it out and fill it anew {}", by),
        CareAction::Dispose => sentence!(
            "Drain it to waste (not to the recycler), clean it out and fill it anew {}",
            by
        ),
        CareAction::StopAndAsk => {
            sentence!(
                "Stop work at this sump now, keep people away from it, and ask whoever looks after \
                 safety"
            )
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
