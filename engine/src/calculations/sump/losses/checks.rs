//! The checks of a log: what contradicts itself, and what is too little to work from.

use super::fit::LogUnfit;
use super::levels::Levels;
use super::log::{Log, LogObservation, Seen};
use super::question::{AlsoEstimated, Losses};
use super::refusal::{BLIND, refusal};
use crate::dynamics::log::LogTimes;
use crate::quantity::{Measure, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, Sentence, names};

impl Losses {
    /// Members that contradict each other.
    pub(super) fn check(&self, times: &LogTimes) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        for (i, pair) in times.days.windows(2).enumerate() {
            if pair[1] < pair[0] {
                let detail = sentence!(
                    "This entry is older than the one before it. Put the log in order of time."
                );
                faults.add(format!("/log/{}", i + 1), detail);
            }
        }
        self.check_calendar(times, &mut faults);
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

    fn check_calendar(&self, times: &LogTimes, faults: &mut Faults) {
        let fluids = self.fluids.iter().flatten().map(|fluid| fluid.name.as_str());
        names::check_unique(fluids, "fluids", "/fluids", faults);
        let Some(calendar) = &self.calendar else { return };
        if times.clocks.is_none() {
            let detail = sentence!(
                "A log that counts days says not which of them are days of work. Give the date of \
                 day 0 (calendar.day_zero), or dates in the log."
            );
            faults.add("/calendar/day_zero", detail);
        }
        if calendar.hours.is_some_and(|hours| hours.get() == 0.0) {
            let detail = sentence!("A day of work without an hour of work is none.");
            faults.add("/calendar/hours", detail);
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
        let rates = [
            ("evaporation", known.evaporation),
            ("carry_off", known.carry_off),
            ("standing", known.standing),
        ];
        for (member, rate) in rates {
            if rate.is_some_and(|rate| rate.u.get() == 0.0) {
                nothing(format!("/known/{member}/u"));
            }
        }
    }

    /// Whether the log holds enough, by counting; each fault says what to measure next.
    pub(super) fn check_identifiable(&self, log: &Log) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        let strengths = || {
            let read = log.observations.iter().filter_map(|observation| match observation.seen {
                Seen::Strength(at) => Some(log.events[at].worked),
                _ => None,
            });
            let mut moments: Vec<f64> = read.collect();
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
            if Levels::of(log).over <= 0.0
                && let Some(detail) = no_two_levels(log)
            {
                faults.add("/log", detail);
            }
            if strengths() < 2 {
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
            if log.filled_blindly() > 0 {
                return Err(refusal(log, LogUnfit::Undetermined));
            }
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

/// What to write down or to read where no two levels are known; none where the strengths between
/// fillings may tell the loss.
fn no_two_levels(log: &Log) -> Option<Sentence> {
    /// Fewer fillings than this never tell one.
    const FILLINGS: usize = 2;
    let blind = log.filled_blindly();
    let has_level = log.observations.iter().any(LogObservation::is_volume)
        || log.events.iter().any(|event| event.poured.to.is_some());
    let is_measured = log.events.iter().any(|event| event.added() > 0.0);
    if blind >= FILLINGS {
        None
    } else if blind > 0 {
        Some(Sentence::fixed(BLIND))
    } else if is_measured && !has_level {
        Some(sentence!(
            "The log says what was poured in and never how full the sump was, so what it loses \
             cannot be told. Where an addition filled the sump up, write that with it (filled_to: \
             full): at two entries some working days apart that is enough, and nobody has to \
             measure anything. Else read the level at two such entries."
        ))
    } else {
        Some(sentence!(
            "At least two levels, some working days apart, are needed to work out a loss. \
             Read the level again after some days of work; or fill the sump up to full \
             and write down how much it took, which costs nobody a reading."
        ))
    }
}
