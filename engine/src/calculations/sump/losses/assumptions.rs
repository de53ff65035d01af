//! What is taken for granted in reading a log.

use super::bounds::Explained;
use super::course::STANDING;
use super::log::{ASSUMED_POINTS, ASSUMED_VOLUME_SHARE, Log};
use super::question::{AlsoEstimated, Losses};
use super::throughout::{SUPPOSED, WrongThroughout};
use crate::dynamics::log::{ReadingUncertainty, usual_morning};
use crate::fluid::practice::read_with_pumps_off;
use crate::quantity::{Concentration, DailyRate, Measure, Quantity, Share, UnitSystem};
use crate::sentence;
use crate::text::Assumption;
use std::collections::BTreeSet;

/// What the log cannot tell of a factor that is wrong throughout.
fn of_factor(off: WrongThroughout) -> Assumption {
    let carry_off = DailyRate::measure_of(off.carry_off).rounded(3);
    let tenth = Share::measure_of_fraction(SUPPOSED);
    let text = match off.told_from {
        Some(share) => sentence!(
            "All strengths were taken to be read with the right factor, and what was added to be \
             as strong as written. A factor that is wrong throughout shows in this log only from \
             {} on: had all strengths been read {} too high, the carry-off would be {}. Check the \
             factor once, with a premix that was measured out.",
            Share::measure_of_fraction(share).rounded(2),
            tenth,
            carry_off
        ),
        None => sentence!(
            "All strengths were taken to be read with the right factor, and what was added to be \
             as strong as written. A factor that is wrong throughout leaves no trace in this log: \
             had all strengths been read {} too high, the carry-off would be {}. Check the factor \
             once, with a premix that was measured out.",
            tenth,
            carry_off
        ),
    };
    Assumption::new("/log", text)
}

impl Losses {
    pub(super) fn assumptions(&self, log: &Log, explained: &Explained) -> Vec<Assumption> {
        let mut assumptions = vec![
            Assumption::volumes_add(),
            Assumption::new(
                "/log",
                "What was added and removed was assumed to be measured without error, and the \
                 sump to be well mixed whenever it was read.",
            ),
            Assumption::weighs_like_water("/log", "all fluid"),
            read_with_pumps_off("/log"),
        ];
        if log.events.iter().any(|event| event.poured.unwritten_up_to().is_some()) {
            let text = "Where nobody wrote down how much a filling took, the sump was taken to be \
                        filled exactly to its mark.";
            assumptions.push(Assumption::new("/log", text));
        }
        assumptions.extend(self.of_time(log, explained));
        assumptions.extend(explained.throughout.map(of_factor));
        self.of_uncertainties(explained, &mut assumptions);
        let known = self.known.unwrap_or_default();
        if known.depletion_ratio.is_none() && !self.asks(AlsoEstimated::DepletionRatio) {
            let text = "What is carried off was assumed to be as strong as the fluid in the sump.";
            assumptions.push(Assumption::new("/known/depletion_ratio", text));
        }
        if self.sump.concentration.is_none() {
            let text = "The make-up holds the strength that the sump had at the last entry.";
            assumptions.push(Assumption::new("/sump/concentration", text));
        }
        let mut said = BTreeSet::new();
        for (i, entry) in self.log.iter().enumerate() {
            let Some(reading) = &entry.reading else { continue };
            let new = reading.assumptions(&format!("/log/{i}/reading"));
            assumptions.extend(
                new.into_iter().filter(|new| said.insert(new.text.show(UnitSystem::Metric))),
            );
        }
        assumptions
    }

    /// What was taken for granted of the time between the entries.
    fn of_time(&self, log: &Log, explained: &Explained) -> Vec<Assumption> {
        let mut assumptions = vec![self.of_work(log)];
        let mut note = |pointer, text| assumptions.push(Assumption::new(pointer, text));
        if log.has_standing && !explained.fitted.free.contains(&STANDING) {
            note(
                "/known/standing",
                sentence!(
                    "The log does not tell what evaporates while the machine stands; it was taken \
                     as none, and what did is counted to the days of work. Read the level on the \
                     last day before the machine stands and on the first day after."
                ),
            );
        }
        if log.times.dates_alone {
            note(
                "/log",
                sentence!(
                    "An entry with a date alone was taken to be read at {} o'clock in the morning.",
                    Measure::bare(usual_morning(self.calendar.as_ref()))
                ),
            );
        }
        if log.times.clock_anywhere {
            note(
                "/time_zone",
                sentence!(
                    "The clock of the log was taken to go evenly; with the time zone the hour is \
                     counted by which clocks change twice a year."
                ),
            );
        }
        assumptions
    }

    fn of_work(&self, log: &Log) -> Assumption {
        if self.log.iter().any(|entry| entry.running_hours.is_some()) {
            let text = "The losses were assumed to be the same in every running hour, and none while the \
                        machine is idle; water that leaks in does so at all hours.";
            return Assumption::new("/log", text);
        }
        if self.calendar.is_some() || log.has_standing {
            let text = "The losses were assumed to be the same on every day of work, and spread \
                        evenly over it; fluid is carried off on days of work alone.";
            return Assumption::new("/calendar", text);
        }
        let text =
            "The losses were assumed to be the same on every day of the log, idle days included.";
        Assumption::new("/calendar", text)
    }

    fn of_uncertainties(&self, explained: &Explained, assumptions: &mut Vec<Assumption>) {
        let said = |of: fn(&ReadingUncertainty) -> bool| {
            let of = |said: &Option<ReadingUncertainty>| said.as_ref().is_some_and(of);
            of(&self.reading_uncertainty)
                || self.log.iter().all(|entry| of(&entry.reading_uncertainty))
        };
        let texts = [
            (
                "volume",
                said(|said| said.volume.is_some()),
                sentence!(
                    "The uncertainty of the volumes was taken from their scatter about the fit."
                ),
                sentence!(
                    "Too few volumes show how uncertain they are: a standard uncertainty of {} of \
                     the capacity was assumed.",
                    Share::measure_of_fraction(ASSUMED_VOLUME_SHARE)
                ),
            ),
            (
                "concentration",
                said(|said| said.concentration.is_some()),
                sentence!(
                    "The uncertainty of the strengths was taken from their scatter about the fit."
                ),
                sentence!(
                    "Too few strengths show how uncertain they are: a standard uncertainty of {} \
                     was assumed.",
                    Concentration::measure_of(ASSUMED_POINTS)
                ),
            ),
        ];
        for ((member, said, from_scatter, too_few), scatter) in
            texts.into_iter().zip(explained.scatter)
        {
            if !said {
                let text = if scatter.is_some() { from_scatter } else { too_few };
                assumptions.push(Assumption::new(format!("/reading_uncertainty/{member}"), text));
            }
        }
        if explained.inflation > 1.0 {
            let text = "The readings scatter more than their uncertainties explain; all \
                        uncertainties of the answer were raised to match.";
            assumptions.push(Assumption::new("/reading_uncertainty", text));
        }
    }
}
