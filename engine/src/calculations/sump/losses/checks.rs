//! The checks of a log: what contradicts itself, and what is too little to work from.

use super::log::{Log, Seen};
use super::question::{AlsoEstimated, Losses};
use crate::quantity::{Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};
use jiff::Timestamp;

/// A sump may be filled past its working level, by no more than this.
const OVERFULL: f64 = 1.25;
const SECONDS_IN_A_DAY: f64 = 86_400.0;
/// A moment as RFC 3339 writes it.
const EXAMPLE_MOMENT: &str = "2026-03-02T06:30:00+01:00";

impl Losses {
    /// The day of each entry.
    pub(super) fn days(&self) -> Result<Vec<f64>, Refusal> {
        let mut faults = Faults::default();
        for (i, entry) in self.log.iter().enumerate() {
            match (&entry.at, entry.day) {
                (Some(_), Some(_)) => {
                    let detail = sentence!(
                        "The time of this entry is given twice, as a moment and as a day. Give one of \
                 them."
                    );
                    faults.add(format!("/log/{i}/day"), detail);
                }
                (None, None) => {
                    let detail = sentence!(
                        "The time of this entry is missing. Give the moment (at) or the day."
                    );
                    faults.add(format!("/log/{i}"), detail);
                }
                (Some(_), None) if self.log[0].at.is_none() => {
                    let detail = sentence!("The log begins with days; go on with days.");
                    faults.add(format!("/log/{i}/at"), detail);
                }
                (None, Some(_)) if self.log[0].at.is_some() => {
                    let detail = sentence!("The log begins with moments; go on with moments.");
                    faults.add(format!("/log/{i}/day"), detail);
                }
                _ => {}
            }
        }
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        let mut first = None;
        let mut days = Vec::with_capacity(self.log.len());
        for (i, entry) in self.log.iter().enumerate() {
            let Some(at) = &entry.at else {
                days.push(entry.day.map_or(0.0, Quantity::get));
                continue;
            };
            if let Ok(moment) = at.parse::<Timestamp>() {
                let since = moment.duration_since(*first.get_or_insert(moment));
                days.push(since.as_secs_f64() / SECONDS_IN_A_DAY);
            } else {
                let detail = sentence!(
                    "This is not a moment in the form of RFC 3339 with the offset from UTC, as \"{}\" is.",
                    EXAMPLE_MOMENT
                );
                faults.add(format!("/log/{i}/at"), detail);
            }
        }
        faults.or_refuse(Kind::OutOfRange)?;
        Ok(days)
    }

    /// The strength read at each entry.
    pub(super) fn strengths(&self) -> Result<Vec<Option<f64>>, Refusal> {
        let mut first: Option<Refusal> = None;
        let mut strengths = Vec::with_capacity(self.log.len());
        for (i, entry) in self.log.iter().enumerate() {
            let read =
                entry.reading.as_ref().map(|r| r.concentration(&format!("/log/{i}/reading")));
            match (entry.concentration, read) {
                (Some(given), _) => strengths.push(Some(given.get())),
                (None, None) => strengths.push(None),
                (None, Some(Ok(read))) => strengths.push(Some(read.get())),
                (None, Some(Err(refusal))) => match &mut first {
                    Some(first) => first.faults.extend(refusal.faults),
                    None => first = Some(refusal),
                },
            }
        }
        first.map_or(Ok(strengths), Err)
    }

    /// Members that contradict each other.
    pub(super) fn check(&self, days: &[f64]) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        for (i, pair) in days.windows(2).enumerate() {
            if pair[1] < pair[0] {
                let detail = sentence!(
                    "This entry is older than the one before it. Put the log in order of time."
                );
                faults.add(format!("/log/{}", i + 1), detail);
            }
        }
        self.check_readings(&mut faults);
        self.check_hours(&mut faults);
        self.check_uncertainties(&mut faults);
        let known = self.known.unwrap_or_default();
        if known.depletion_ratio.is_some() && self.asks(AlsoEstimated::DepletionRatio) {
            let detail = sentence!(
                "The depletion ratio is both known and asked for. Leave one of them out."
            );
            faults.add("/known/depletion_ratio", detail);
        }
        if known.depletion_ratio.is_some_and(|ratio| ratio.get() == 0.0) {
            let detail = sentence!(
                "With a depletion ratio of {} no concentrate is ever lost, and the carry-off \
                 cannot be told from the evaporation. Leave it out, or ask for it with a \
                 carry-off that is known.",
                Measure::bare(0.0)
            );
            faults.add("/known/depletion_ratio", detail);
        }
        faults.or_refuse(Kind::Inconsistent)
    }

    fn check_readings(&self, faults: &mut Faults) {
        let most = self.sump.capacity.get() * OVERFULL;
        for (i, entry) in self.log.iter().enumerate() {
            if entry.concentration.is_some() && entry.reading.is_some() {
                let detail = sentence!(
                    "The strength of the fluid is given twice, as a concentration and as a \
                 reading. Give one of them."
                );
                faults.add(format!("/log/{i}/reading"), detail);
            }
            let Some(volume) = entry.volume else { continue };
            let pointer = format!("/log/{i}/volume");
            if volume.get() > most {
                let detail = sentence!(
                    "{} in a sump of {} is more than overfull. Check the reading and the capacity.",
                    volume,
                    self.sump.capacity
                );
                faults.add(pointer, detail);
            } else if volume.get() == 0.0 {
                let detail =
                    sentence!("An empty sump loses no fluid. Begin the log after it is filled.");
                faults.add(pointer, detail);
            }
            let removed = entry.removed.map_or(0.0, |removed| removed.volume.get());
            if removed > most {
                let detail = sentence!(
                    "{} were removed from a sump that holds {}.",
                    Volume::measure_of(removed),
                    self.sump.capacity
                );
                faults.add(format!("/log/{i}/removed/volume"), detail);
            }
        }
    }

    fn check_hours(&self, faults: &mut Faults) {
        let any = self.log.iter().any(|entry| entry.running_hours.is_some());
        let mut before = None;
        for (i, entry) in self.log.iter().enumerate().filter(|_| any) {
            let pointer = format!("/log/{i}/running_hours");
            let Some(hours) = entry.running_hours else {
                let detail = sentence!(
                    "The hour meter is given in other entries and not in this one. Give it in \
                 every entry or in none."
                );
                faults.add(pointer, detail);
                continue;
            };
            if before.is_some_and(|before| hours < before) {
                let detail = sentence!(
                    "The hour meter runs backwards. Give what it shows at each entry, not the \
                 hours since the last one."
                );
                faults.add(pointer, detail);
            }
            before = Some(hours);
        }
    }

    fn check_uncertainties(&self, faults: &mut Faults) {
        let mut nothing = |pointer: String| {
            let detail = sentence!(
                "A standard uncertainty of {} cannot be: no figure is known exactly. Give a \
                 greater one.",
                Measure::bare(0.0)
            );
            faults.add(pointer, detail);
        };
        let own = self.log.iter().enumerate();
        let own = own
            .map(|(i, entry)| (format!("/log/{i}/reading_uncertainty"), entry.reading_uncertainty));
        let all = own.chain([("/reading_uncertainty".to_owned(), self.reading_uncertainty)]);
        for (pointer, said) in all {
            let points = said.and_then(|said| said.concentration);
            if points.is_some_and(|points| points.get() == 0.0) {
                nothing(format!("{pointer}/concentration"));
            }
        }
        let known = self.known.unwrap_or_default();
        for (member, rate) in [("evaporation", known.evaporation), ("carry_off", known.carry_off)] {
            if rate.is_some_and(|rate| rate.u.get() == 0.0) {
                nothing(format!("/known/{member}/u"));
            }
        }
    }

    /// Whether the log holds enough, by counting; each fault says what to measure next.
    pub(super) fn check_identifiable(&self, log: &Log) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        let moments = |volumes: bool| {
            let mut moments: Vec<f64> = Vec::new();
            for observation in &log.observations {
                let at = match observation.seen {
                    Seen::Volume(at) if volumes => at,
                    Seen::Strength(at) if !volumes => at,
                    _ => continue,
                };
                moments.push(log.events[at].worked);
            }
            moments.dedup();
            moments.len()
        };
        if log.hours_a_day == Some(0.0) && log.events.len() > 1 {
            let detail = sentence!(
                "By its hour meter the machine did not run between the first entry and the \
                 last, so the log cannot show what it loses at work. Go on until it has run, \
                 or leave the running hours out."
            );
            faults.add("/log", detail);
        } else {
            if moments(true) < 2 {
                let detail = sentence!(
                    "At least two volume readings, some working days apart, are needed to work \
                 out a loss. Read the level again after some days of work."
                );
                faults.add("/log", detail);
            }
            if moments(false) < 2 {
                let detail = sentence!(
                    "At least two strengths, some working days apart, are needed to separate \
                 evaporation from carry-off. Read the strength again after some days of work."
                );
                faults.add("/log", detail);
            }
        }
        let known = self.known.unwrap_or_default();
        let any_rate = known.evaporation.is_some() || known.carry_off.is_some();
        if log.asks_depletion && !any_rate {
            let detail = sentence!(
                "No log of volumes and strengths shows the depletion ratio: a little more \
                 carry-off and a little less evaporation look the same. Measure one of the \
                 two on its own, for instance by weighing a week's chips before and after \
                 they are drained dry, and give it as known carry_off."
            );
            faults.add("/known/carry_off", detail);
        }
        faults.or_refuse(Kind::NotIdentifiable)?;
        let unknowns = super::fit::free(log).len();
        let observations = log.observations.len();
        if observations < unknowns {
            let count = |count| Measure::bare(super::fit::degrees(count));
            let detail = sentence!(
                "{} readings are too few for {} unknowns. Read both the volume and the strength at \
                 one more entry at least.",
                count(observations),
                count(unknowns)
            );
            return Err(Refusal::new(Kind::NotIdentifiable, "/log", detail));
        }
        Ok(())
    }

    /// Refuses a result that the log leaves nearly open.
    pub(super) fn check_sure(value: f64, u: f64, what: AlsoEstimated) -> Result<(), Refusal> {
        /// A standard uncertainty above this share of a value leaves the value open.
        const OPEN: f64 = 0.25;
        if u <= OPEN * value {
            return Ok(());
        }
        let detail = match what {
            AlsoEstimated::Volume => sentence!(
                "The log does not show what the sump truly holds: what it adds is too little or too \
                 even. Pour in at least a tenth of the sump's volume at once, its volume measured \
                 and its strength far from the sump's, and read level and strength just before it \
                 and after it is mixed."
            ),
            AlsoEstimated::DepletionRatio => sentence!(
                "The log leaves the depletion ratio open: the known rate is too uncertain, or the \
                 log too short. Measure the carry-off better, and go on with the log."
            ),
        };
        Err(Refusal::new(Kind::NotIdentifiable, "/estimate", detail))
    }
}
