//! What is in a sump right now, from its log and what is known of its losses.
//!
//! *Nobody has read machine 7 since Thursday. What is in it now, how sure is that, does anything
//! look wrong, and what do I do about it today?*
//!
//! With V the volume (L), C the concentrate in it (L), M of whatever else is followed (mg), e the
//! evaporation and d the carry-off on a day of work, s the evaporation on a day on which the machine
//! stands (L/day), k the depletion ratio, over a stretch of t days of work and t_s days at rest:
//!
//! 1. V₁ = V₀ − (e + d)·t − s·t_s
//! 2. C₁ = C₀·e^(−k·d·t·φ), M₁ = M₀·e^(−d·t·φ), with φ = ln(V₁/V₀)/(V₁ − V₀) (1/L)
//! 3. at an entry, after it is read: what is removed takes its share of all, and what is added
//!    brings what it carries
//! 4. e, d and s wander: each day adds (drift·(e + d))²/30 to the variance of e and of d, and
//!    (drift·s)²/30 to that of s
//! 5. readings: V, 100·C/V and M/V, each with its standard uncertainty u
//!
//! The estimate x and its covariance P go through the entries in order (Kalman's filter, with 1 to 3
//! linearised where they stand): P ← F·P·Fᵀ + Q over a stretch, and for a reading y = h(x) with
//! H = ∂h/∂x
//!
//! 6. S = H·P·Hᵀ + u², x ← x + P·Hᵀ·(y − h)/S, P ← P − P·Hᵀ·H·P/S
//!
//! What the log says of its earlier entries is smoothed with what came after (Rauch, Tung and
//! Striebel). The standardised innovation z = (y − h)/√S of each reading is summed, up and down, as
//! S⁺ ← max(0, S⁺ + z − ½) and S⁻ ← max(0, S⁻ − z − ½); past h = 5 either is an alarm. With
//! independent errors a chart of one reading raises a false one in 465 readings (Brook and Evans,
//! 1972), and the two together in some 230.
//!
//! A reading farther than 4 u from what the log makes of it is taken as the start of something that
//! nobody wrote down: the estimate follows it, and it is said.
//!
//! Assumes a sump that is well mixed when it is read, and additions measured without error. Valid
//! for any sump of one product. Source: Kalman (1960) for 6; the equations of
//! [`losses`](super::losses) for 1 to 3, which it equals where no loss wanders.
//!
//! # Decisions
//!
//! - **A filter that goes forward only, and a smoother for what is shown of the past.** So the answer's
//!   `state` is all that the next entry needs, and a caller with thousands of machines keeps one short
//!   document of each. To linearise again about what came later would need the whole log.
//! - **A level that was seen once at most is not carried on by strengths.** A filter that is
//!   linearised where it stands grows surer of it than strengths can make it, and ends with sumps
//!   that hold more than they can, or run dry. Such a log is refused with what to write down.
//! - **The state has standard uncertainties and correlations**, not covariances: each number has a unit.

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::job_sheet::MakeSheet;
use crate::text::{Caution, Refusal, Sentence, filed, said};

mod alarms;
mod answer;
mod assumptions;
mod checks;
mod estimate;
mod filter;
mod findings;
mod from_run;
mod handed_on;
mod job_sheet;
mod kept;
mod outlook;
mod picture;
mod question;
mod run;
mod smooth;
mod statement;
mod today;

pub use alarms::{AlarmCause, AlarmWay, KeptSum, KeptSums, StateAlarm, WatchedReading};
pub use answer::{
    EntryEstimate, IntervalOfContent, IntervalOfStrength, IntervalOfVolume, NextReading, StateNow,
    StateRates, SumpStateAnswer, ToDoToday,
};
pub use kept::{KeptProperty, KeptRate, KeptState, KeptVolume};
pub use question::{StateLosses, SumpState};

/// Work of an entry, in handled numbers.
const WORK_OF_AN_ENTRY: usize = 60;

impl Calculation for SumpState {
    const NAME: &'static str = "sump-state";
    const SUMMARY: &'static str = "What is in a sump now, by its log, how sure that is, what looks \
                                   wrong, and what to do today";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/sump-state.json");
    const LIST: Option<&'static str> = Some("log");
    const COMES_IN_STREAMS: bool = true;
    type Answer = SumpStateAnswer;
    const SHEET: Option<MakeSheet<Self, SumpStateAnswer>> =
        Some(|_, answer| Self::job_sheet(answer));
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<SumpStateAnswer>, Refusal> {
        let run = run::run(self)?;
        let answer = from_run::answer(self, &run)?;
        Ok(Outcome {
            findings: said(|| self.findings(&run, &answer)),
            balance: None,
            assumptions: filed(|| self.assumptions(&run)),
            cautions: said(|| cautions(&answer)),
            answer,
        })
    }

    fn statement(&self, answer: &SumpStateAnswer) -> Sentence {
        self.in_short(answer)
    }

    fn work_ahead(&self) -> usize {
        self.log.len() * WORK_OF_AN_ENTRY
    }

    fn work(&self, _: &SumpStateAnswer) -> usize {
        self.work_ahead()
    }
}

/// Those of looking at a machine, and of what is poured in.
fn cautions(answer: &SumpStateAnswer) -> Vec<Caution> {
    let mut cautions = vec![Caution::SKIN_AND_MIST, Caution::BREATHING];
    if let Some(top_up) = &answer.top_up {
        cautions.push(Caution::MACHINE);
        if top_up.premix.as_ref().is_some_and(|premix| premix.parts_of_water.is_some()) {
            cautions.push(Caution::CONCENTRATE);
        }
    }
    cautions
}
