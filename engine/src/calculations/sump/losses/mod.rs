//! From the log of a sump to what it loses, and to what was not written down.
//!
//! *I have written down levels, strengths and top-ups for three weeks. How much
//! goes into the air, how much goes out with the chips, and did somebody pour
//! something in that is not in the book?*
//!
//! With V the volume (L) and C the concentrate in it (L), c = 100·C/V the strength
//! (% by volume), e the evaporation and d the carry-off (L/day), k the depletion
//! ratio, t the time (days) from an entry to the next:
//!
//! 1. volume: V₁ = V₀ − (e + d)·t − s·t_s, with s what evaporates on a day on which the machine
//!    stands and t_s the days that it stood
//! 2. concentrate: C₁ = C₀·(V₁/V₀)^(k·d/(e + d)), and C₀·exp(−k·d·t/V) at constant V
//! 3. at an entry, after it is read: V rises by what is added, C by its concentrate;
//!    what is removed takes its share of both
//! 4. readings: V and c of every entry, each with its standard uncertainty
//!
//! The unknowns are V and C at the first entry, e, d, and on demand k or the scale
//! of the volume readings. All readings are fitted at once by weighted least
//! squares (Gauss–Newton, each step by singular values). As a reading closes one
//! interval and opens the next, the errors of neighbouring intervals are
//! correlated; to fit the readings rather than their differences is the same as
//! generalised least squares on the intervals with that correlation.
//!
//! A log of volumes and strengths alone determines e + d and k·d, and no log can
//! separate e, d and k: only these two occur in equations 1 and 2. So k is 1 or as given,
//! unless one of the rates is known from elsewhere.
//!
//! Suspects: each fault that a log can have is one more unknown. All of them are
//! tried at all entries; the one that explains most is kept when chance would
//! explain as much in fewer than one log in a hundred, all trials counted
//! (Bonferroni), and the search starts again, up to five suspects.
//!
//! A log that fills up to a level it knows and writes down the litres shows what was there
//! before: the level less the litres. One that does not write them down begins anew there.
//! Where it never does, the strengths between fillings of two kinds still tell e + d, by how far each
//! filling thins or thickens the fluid; a loss that they leave open by more than a quarter is
//! refused with the figure that would tell it.
//! With a working calendar t counts days of work, and s is an unknown of its own where the log
//! tells it; else it is taken as none.
//!
//! A factor that is wrong throughout leaves no trace in most logs: what it would do to the
//! carry-off is said. A fault that lasts is seldom known to the day; the rates are as unsure
//! as fits in which it begins at other entries make them.
//!
//! Assumes constant rates over the log (per running hour where the hours are
//! given, per day of work with a calendar), additions measured without error, and a sump that is well mixed when it
//! is read. Valid for any sump of one product. Source: the balance of
//! cooling-tower handbooks for equations 1 and 2; GUM (JCGM 100:2008) for the
//! uncertainties; the usual theory of the linear model for the rest.
//!
//! # Decisions
//!
//! - **What a log does not tell is not named.** A can of concentrate that nobody wrote down and a factor a tenth too
//!   large lift the strengths alike, and only what is diluted since tells them apart. A likelihood that is given the
//!   rate equations, the errors and the kinds of fault, and has to find rates, sizes and days as this does, takes as
//!   many of the two together for each other. Of levels misread by five uncertainties, and of drifts of 1 % a day, it
//!   names one in thirteen more: it looks for the seven kinds that occur and not for ten, and may accuse one clean log
//!   in a hundred, where this accuses one in two hundred (`tests/tools/logs`).

use crate::calculation::{Calculation, DrawPictures, Outcome};
use crate::text::{Caution, Refusal, Sentence, filed, said};

mod answer;
mod assumptions;
mod balance;
mod bounds;
mod checks;
mod course;
mod estimates;
mod findings;
mod fit;
mod intervals;
mod levels;
mod log;
mod named;
mod picture;
mod question;
mod refusal;
mod scores;
mod search;
mod significance;
mod statement;
mod suspect;
mod throughout;

pub use answer::{
    AdditionMissing, ConcentrationMisread, DayOfRates, EstimatedConcentration, EstimatedDailyRate,
    EstimatedHourlyRate, EstimatedRatio, EstimatedVolume, FactorOff, HoldingMakeUp, HourlyRates,
    InstrumentDrift, IntervalResidual, LeftOver, LogInterval, LogSuspect, LossCorrelations,
    LossesAnswer, PremixOff, ReadingScatter, SuspectKind, UnrecordedAddition, UnrecordedRemoval,
    VolumeMisread, WaterIngress,
};
pub use question::{AlsoEstimated, KnownLosses, Losses};

/// Work of an entry of a log, which is fitted with and without each thing that may have
/// gone wrong, in handled numbers.
const WORK_OF_AN_ENTRY: usize = 120;

impl Calculation for Losses {
    const NAME: &'static str = "losses";
    const SUMMARY: &'static str = "What a sump loses to the air and to the chips, from its log, with \
                                   uncertainties, and what was not written down";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/losses.json");
    const LIST: Option<&'static str> = Some("log");
    type Answer = LossesAnswer;
    const PICTURES: Option<DrawPictures<Self>> = Some(picture::pictures);

    fn calculate(&self) -> Result<Outcome<LossesAnswer>, Refusal> {
        let log = self.read()?;
        let explained = search::explain(&log)?;
        let answer = estimates::answer(self, &log, &explained)?;
        let findings = said(|| self.findings(&log, &answer, explained.unexplained));
        Ok(Outcome {
            findings,
            answer,
            balance: Some(balance::balance(&log, &explained.fitted)?),
            assumptions: filed(|| self.assumptions(&log, &explained)),
            cautions: vec![Caution::SKIN_AND_MIST, Caution::BREATHING],
        })
    }

    fn statement(&self, answer: &LossesAnswer) -> Sentence {
        self.in_short(answer)
    }

    fn work_ahead(&self) -> usize {
        self.log.len() * WORK_OF_AN_ENTRY
    }

    fn work(&self, _: &LossesAnswer) -> usize {
        self.work_ahead()
    }
}
