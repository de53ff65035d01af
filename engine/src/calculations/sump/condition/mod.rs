//! Is this fluid still good, and what is to be done with it by when.
//!
//! *It reads 5.2, the pH has come down to 8.4, the slide shows some growth and it smells a little:
//! do I top up, treat, skim, clean out, or dump it?*
//!
//! Each observation is held against its boundary and is good, to watch, or to act on. The table in
//! `rules.rs` says what each leads to, and what two lead to that hold together; of all that apply,
//! what reaches furthest is the decision. No observation that gets worse makes it laxer.
//!
//! The boundaries are published ones where there are any (UK HSE, TRGS 611, DGUV Regel 109-003), else
//! common practice and marked so; the fluid's own limits go before them where they are stricter.
//! What conductivity evaporation explains is the balance of `make-up` where it has settled:
//!
//! 1. cycles of concentration: C = (e + d)/d, with e what evaporates and d what is carried off
//! 2. conductivity explained: κ = (κ_fresh − κ_water) + κ_water·C
//!
//! Assumes that what was not observed is good, and names what is missing to decide. It does not
//! replace the judgement of who knows the fluid, its sheet, or a doctor's.

mod answer;
mod assumptions;
mod bounds;
mod cautions;
mod checks;
mod decision;
mod findings;
mod job_sheet;
mod judging;
mod missing;
mod question;
mod rules;
mod statement;

pub use answer::{
    CareAction, ConditionAnswer, FurtherCare, JudgedObservation, MissingTest, Observation, Reason,
    Verdict,
};
pub use question::{
    Condition, ConductivityObserved, ContentObserved, Foam, FungalGrowth, FungiObserved, Look,
    OilObserved, PhObserved, Rust, SlideObserved, Smell,
};

use crate::calculation::{Calculation, Outcome};
use crate::job_sheet::MakeSheet;
use crate::quantity::{Days, Quantity};
use crate::text::{Refusal, Sentence, filed, said};

impl Calculation for Condition {
    const NAME: &'static str = "condition";
    const SUMMARY: &'static str = "Whether a sump's fluid is still good, by what was seen and \
                                   measured of it, and what to do with it by when";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/condition.json");
    const SHEET: Option<MakeSheet<Self, ConditionAnswer>> = Some(|_, answer| answer.job_sheet());
    type Answer = ConditionAnswer;

    fn calculate(&self) -> Result<Outcome<ConditionAnswer>, Refusal> {
        self.check()?;
        let judged = self.judged()?;
        Self::check_judged(&judged)?;
        let rows: Vec<_> = judged.iter().filter_map(|one| one.row).collect();
        let decided = decision::decide(&rows);
        let strength = self.strength()?;
        let besides = decided.besides().into_iter().map(|rule| {
            let care = rule.care();
            Ok(FurtherCare {
                action: care.action,
                product: care.product,
                within_days: Days::of(care.within)?,
                text: rule.because(&judged),
            })
        });
        let answer = ConditionAnswer {
            decision: decided.care.action,
            product: decided.care.product,
            within_days: Days::of(decided.care.within)?,
            reasons: decided
                .reasons()
                .map(|rule| Reason { observation: rule.rests_on(), text: rule.because(&judged) })
                .collect(),
            besides: besides.collect::<Result<_, Refusal>>()?,
            observations: judged.iter().map(judging::Judged::answer).collect(),
            missing: self.missing(),
        };
        Ok(Outcome {
            findings: said(|| self.findings(&judged, strength)),
            balance: None,
            assumptions: filed(|| self.assumptions()),
            cautions: said(|| cautions::cautions(&judged, &decided)),
            answer,
        })
    }

    fn statement(&self, answer: &ConditionAnswer) -> Sentence {
        Self::in_short(answer)
    }
}
