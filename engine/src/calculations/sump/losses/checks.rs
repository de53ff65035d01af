//! What a log may not contradict itself in, and what it must hold to tell anything.

use super::log::{Log, Seen};
use super::{Extra, LossLog};
use crate::quantity::{Measure, Quantity};
use crate::text::{Faults, Kind, Refusal, Sentence};
use jiff::Timestamp;

/// A sump may be filled past its working level, by no more than this.
const OVERFULL: f64 = 1.25;
const SECONDS_IN_A_DAY: f64 = 86_400.0;

impl LossLog {
    /// The day of each entry.
    pub(super) fn days(&self) -> Result<Vec<f64>, Refusal> {
        let mut faults = Faults::default();
        for (i, entry) in self.log.iter().enumerate() {
            match (&entry.at, entry.day) {
                (Some(_), Some(_)) => {
                    let detail = "When this was is given twice, as a moment and as a day. Give one \
                                  of them.";
                    faults.add(format!("/log/{i}/day"), Sentence::new(detail));
                }
                (None, None) => {
                    let detail = "When this was is missing. Give the moment (at) or the day.";
                    faults.add(format!("/log/{i}"), Sentence::new(detail));
                }
                (Some(_), None) if self.log[0].at.is_none() => {
                    let detail = "The log begins with days; go on with days.";
                    faults.add(format!("/log/{i}/at"), Sentence::new(detail));
                }
                (None, Some(_)) if self.log[0].at.is_some() => {
                    let detail = "The log begins with moments; go on with moments.";
                    faults.add(format!("/log/{i}/day"), Sentence::new(detail));
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
                let detail = "This is not a moment as RFC 3339 writes it, with the offset from \
                              UTC: 2026-03-02T06:30:00+01:00.";
                faults.add(format!("/log/{i}/at"), Sentence::new(detail));
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
                let detail = "This entry is older than the one before it. Put the log in order of \
                              time.";
                faults.add(format!("/log/{}", i + 1), Sentence::new(detail));
            }
        }
        self.check_readings(&mut faults);
        self.check_hours(&mut faults);
        self.check_uncertainties(&mut faults);
        let known = self.known.unwrap_or_default();
        if known.depletion_ratio.is_some() && self.asks(Extra::DepletionRatio) {
            let detail = "The depletion ratio is both known and asked for. Leave one of them out.";
            faults.add("/known/depletion_ratio", Sentence::new(detail));
        }
        if known.depletion_ratio.is_some_and(|ratio| ratio.get() == 0.0) {
            let detail = "With a depletion ratio of nothing no concentrate is ever lost, and the \
                          carry-off cannot be told from the evaporation. Leave it out, or ask for \
                          it with a carry-off that is known.";
            faults.add("/known/depletion_ratio", Sentence::new(detail));
        }
        faults.or_refuse(Kind::Inconsistent)
    }

    fn check_readings(&self, faults: &mut Faults) {
        let most = self.sump.capacity.get() * OVERFULL;
        for (i, entry) in self.log.iter().enumerate() {
            if entry.concentration.is_some() && entry.reading.is_some() {
                let detail = "The strength of the fluid is given twice, as a concentration and as \
                              a reading. Give one of them.";
                faults.add(format!("/log/{i}/reading"), Sentence::new(detail));
            }
            let Some(volume) = entry.volume else { continue };
            let pointer = format!("/log/{i}/volume");
            if volume.get() > most {
                let detail = "{} in a sump of {} is more than overfull. Check the reading and the \
                              capacity.";
                let detail = Sentence::new(detail).with(volume.measure());
                faults.add(pointer, detail.with(self.sump.capacity.measure()));
            } else if volume.get() == 0.0 {
                let detail = "An empty sump loses nothing. Begin the log after it is filled.";
                faults.add(pointer, Sentence::new(detail));
            }
            let removed = entry.removed.map_or(0.0, |removed| removed.volume.get());
            if removed > most {
                let detail = "More was removed than the sump of {} holds.";
                let detail = Sentence::new(detail).with(self.sump.capacity.measure());
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
                let detail = "The hour meter is given in other entries and not in this one. Give \
                              it in every entry or in none.";
                faults.add(pointer, Sentence::new(detail));
                continue;
            };
            if before.is_some_and(|before| hours < before) {
                let detail = "The hour meter runs backwards. Give what it shows at each entry, not \
                              the hours since the last one.";
                faults.add(pointer, Sentence::new(detail));
            }
            before = Some(hours);
        }
    }

    fn check_uncertainties(&self, faults: &mut Faults) {
        let mut nothing = |pointer: String| {
            let detail = "Nothing is known without uncertainty. Give a standard uncertainty above \
                          nothing.";
            faults.add(pointer, Sentence::new(detail));
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

    /// Whether the log can tell anything, by counting; each fault says what to
    /// measure next.
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
            let detail = "By its hour meter the machine did not run between the first entry and \
                          the last, so the log tells nothing of what it loses at work. Go on until \
                          it has run, or leave the running hours out.";
            faults.add("/log", Sentence::new(detail));
        } else {
            if moments(true) < 2 {
                let detail = "Two volumes with losses between them are the least that tells a \
                              loss. Read the level again after some days of work.";
                faults.add("/log", Sentence::new(detail));
            }
            if moments(false) < 2 {
                let detail = "Two strengths with losses between them are the least that tells air \
                              from chips. Read the strength again after some days of work.";
                faults.add("/log", Sentence::new(detail));
            }
        }
        let known = self.known.unwrap_or_default();
        let any_rate = known.evaporation.is_some() || known.carry_off.is_some();
        if log.asks_depletion && !any_rate {
            let detail = "No log of volumes and strengths tells the depletion ratio: a little more \
                          carry-off and a little less evaporation look the same. Measure one of \
                          the two on its own, for instance by weighing a week's chips before and \
                          after they are drained dry, and give it as known carry_off.";
            faults.add("/known/carry_off", Sentence::new(detail));
        }
        faults.or_refuse(Kind::NotIdentifiable)?;
        let unknowns = super::fit::free(log).len();
        let observations = log.observations.len();
        if observations < unknowns {
            let detail = "{} readings cannot tell {} unknowns. Read both the volume and the \
                          strength at one more entry at least.";
            let count = |count| Measure::bare(super::fit::degrees(count));
            let detail = Sentence::new(detail).with(count(observations)).with(count(unknowns));
            return Err(Refusal::new(Kind::NotIdentifiable, "/log", detail));
        }
        Ok(())
    }

    /// A result that the log leaves nearly open is none.
    pub(super) fn check_sure(value: f64, u: f64, what: Extra) -> Result<(), Refusal> {
        /// A standard uncertainty above this share of a value leaves the value open.
        const OPEN: f64 = 0.25;
        if u <= OPEN * value {
            return Ok(());
        }
        let detail = match what {
            Extra::Volume => {
                "The log does not tell what the sump truly holds: what it adds is too little or \
                 too even. Pour in at least a tenth of the sump's volume at once, its volume \
                 measured and its strength far from the sump's, and read level and strength just \
                 before it and after it is mixed."
            }
            Extra::DepletionRatio => {
                "The log leaves the depletion ratio open: the known rate is too uncertain, or the \
                 log too short. Measure the carry-off better, and go on with the log."
            }
        };
        Err(Refusal::new(Kind::NotIdentifiable, "/estimate", Sentence::new(detail)))
    }
}
