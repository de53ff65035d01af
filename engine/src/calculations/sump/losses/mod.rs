//! From the log of a sump to what it loses, and to what the log keeps quiet about.
//!
//! *I have written down levels, strengths and top-ups for three weeks. How much
//! goes into the air, how much goes out with the chips, and did somebody pour
//! something in that is not in the book?*
//!
//! With V the volume (L) and C the concentrate in it (L), c = 100·C/V the strength
//! (% by volume), e the evaporation and d the carry-off (L/day), k the depletion
//! ratio, t the time (days) from an entry to the next:
//!
//! 1. volume: V₁ = V₀ − (e + d)·t
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
//! A log of volumes and strengths alone tells e + d and k·d, and no log tells e, d
//! and k apart: only these two occur in equations 1 and 2. So k is 1 or as given,
//! unless one of the rates is known from elsewhere.
//!
//! Findings: each fault that a log can have is one more unknown. All of them are
//! tried at all entries; the one that explains most is kept when chance would
//! explain as much in fewer than one log in a hundred, all trials counted
//! (Bonferroni), and the search starts again, up to five findings.
//!
//! Assumes constant rates over the log (per running hour where the hours are
//! given), additions measured without error, and a sump that is well mixed when it
//! is read. Valid for any sump of one product. Source: the balance of
//! cooling-tower handbooks for equations 1 and 2; GUM (JCGM 100:2008) for the
//! uncertainties; the usual theory of the linear model for the rest.

use crate::calculation::{Calculation, Outcome};
use crate::fluid::balance::Balance;
use crate::fluid::practice;
use crate::fluid::reading::Reading;
use crate::quantity::{Capacity, Concentration, Days, Hours, Quantity, Ratio, Volume};
use crate::text::{Caution, Finding, Refusal};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

mod answer;
mod assumptions;
mod bounds;
mod checks;
mod course;
mod fit;
mod ledger;
mod log;
mod report;
mod search;
mod suspects;

pub use answer::*;

/// A sump's log, to be turned into what the sump loses.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LossLog {
    /// The sump.
    pub sump: LoggedSump,
    /// What was read, added and removed, in order of time.
    #[schema(min_items = 1, max_items = 20000)]
    pub log: Vec<LogEntry>,
    /// How uncertain the readings are. Where it is not said, it is taken from how
    /// the readings scatter about the fit.
    pub reading_uncertainty: Option<ReadingUncertainty>,
    /// What to work out besides evaporation and carry-off.
    #[schema(min_items = 1, max_items = 2)]
    pub estimate: Option<Vec<Extra>>,
    /// What is known from elsewhere than the log.
    pub known: Option<KnownLosses>,
}

/// The sump that the log is about.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LoggedSump {
    /// What it holds when full to its working level, by its plate or as the shop
    /// takes it to be.
    #[schema(example = 200.0)]
    pub capacity: Capacity,
    /// The strength to hold it at, for the make-up; that of the log's last entry
    /// when left out.
    pub concentration: Option<Concentration>,
}

/// One line of the log. What an entry reads, it reads before it removes, and it
/// removes before it adds.
#[skip_serializing_none]
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogEntry {
    /// When, as RFC 3339 writes it, with the offset from UTC. Give this or the day.
    #[schema(example = "2026-03-02T06:30:00+01:00")]
    pub at: Option<String>,
    /// When, in days from any day the log counts from; half a day is 0.5.
    pub day: Option<Days>,
    /// How much was in the sump, by its level.
    pub volume: Option<Volume>,
    /// How strong the fluid was. Give this or a reading.
    pub concentration: Option<Concentration>,
    /// What an instrument said about the fluid.
    pub reading: Option<Reading>,
    /// What was drained or scooped out, as it was.
    pub removed: Option<LogRemoval>,
    /// What was poured in.
    pub added: Option<LogAddition>,
    /// What the machine's hour meter showed. Give it in every entry or in none: with
    /// it the rates are per running hour, and weeks at rest do not mislead.
    pub running_hours: Option<Hours>,
    /// How uncertain this entry's readings are, where it differs from the rest.
    pub reading_uncertainty: Option<ReadingUncertainty>,
}

/// What was poured in.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogAddition {
    /// How much.
    #[schema(example = 40.0)]
    pub volume: Volume,
    /// How strong: 0 for water, 100 for neat concentrate.
    #[schema(example = 5.0)]
    pub concentration: Concentration,
}

/// What was taken out.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct LogRemoval {
    /// How much.
    #[schema(example = 10.0)]
    pub volume: Volume,
}

/// Standard uncertainties (one sigma) of readings.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingUncertainty {
    /// Of a volume read from the level.
    pub volume: Option<Capacity>,
    /// Of a concentration.
    pub concentration: Option<Concentration>,
}

/// What can be worked out besides the two rates.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum Extra {
    /// How fast concentrate leaves against its share. Needs one of the rates from
    /// elsewhere.
    DepletionRatio,
    /// What the sump truly holds at its nominal capacity, from additions of known
    /// volume against the levels and strengths read.
    Volume,
}

/// What is known from elsewhere than the log.
#[skip_serializing_none]
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct KnownLosses {
    /// Evaporation in a day, by a measurement of its own.
    pub evaporation: Option<EstimatedDailyRate>,
    /// Carry-off in a day, for instance from weighing chips before and after they
    /// are drained dry.
    pub carry_off: Option<EstimatedDailyRate>,
    /// How fast concentrate leaves with what is carried off, against its share of
    /// the fluid; 1 when left out.
    pub depletion_ratio: Option<Ratio>,
}

/// What an entry of a log takes, which is fitted with and without each thing that may
/// have gone wrong, in handled numbers.
const WORK_OF_AN_ENTRY: usize = 120;

impl Calculation for LossLog {
    const NAME: &'static str = "losses";
    const SUMMARY: &'static str = "What a sump loses to the air and to the chips, from its log, with \
                                   uncertainties, and what the log does not say";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/losses.json");
    const LIST: Option<&'static str> = Some("log");
    type Answer = LossesAnswer;

    fn calculate(&self) -> Result<Outcome<LossesAnswer>, Refusal> {
        let log = self.read()?;
        let explained = search::explain(&log)?;
        let answer = report::answer(self, &log, &explained)?;
        Ok(Outcome {
            findings: self.unusual_strengths(),
            answer,
            balance: Some(balance(&log, &explained)?),
            assumptions: self.assumptions(&explained),
            cautions: vec![Caution::SKIN_AND_MIST, Caution::BREATHING],
        })
    }

    fn work(&self, _: &LossesAnswer) -> usize {
        self.log.len() * WORK_OF_AN_ENTRY
    }
}

fn balance(log: &log::Log, explained: &bounds::Explained) -> Result<Balance, Refusal> {
    ledger::balance(log, &explained.fitted)
}

impl LossLog {
    /// Asks back about strengths that no working sump has.
    fn unusual_strengths(&self) -> Vec<Finding> {
        let held = self.sump.concentration;
        let held = held.and_then(|c| practice::unusual_strength(c, "/sump/concentration"));
        let entries = self.log.iter().enumerate().filter_map(|(i, entry)| match &entry.reading {
            Some(reading) => {
                let pointer = format!("/log/{i}/reading");
                practice::unusual_strength(reading.concentration(&pointer).ok()?, &pointer)
            }
            None => {
                practice::unusual_strength(entry.concentration?, &format!("/log/{i}/concentration"))
            }
        });
        let entries = practice::few(entries);
        held.into_iter().chain(entries).collect()
    }

    fn asks(&self, extra: Extra) -> bool {
        self.estimate.iter().flatten().any(|asked| *asked == extra)
    }

    /// The depletion ratio to begin with: as known, or 1.
    fn depletion(&self) -> f64 {
        self.known.and_then(|known| known.depletion_ratio).map_or(1.0, Quantity::get)
    }
}
