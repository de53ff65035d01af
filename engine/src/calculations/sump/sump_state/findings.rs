//! What to look at first: slow faults, and readings that the log cannot make anything of.

use super::alarms::{AlarmWay, READINGS_BETWEEN, StateAlarm, WatchedReading};
use super::answer::{COVERAGE, StateNow, SumpStateAnswer};
use super::filter::{CARRY_OFF, EVAPORATION, STEP};
use super::question::SumpState;
use super::run::Run;
use crate::dynamics::log::LogEntry;
use crate::quantity::{Concentration, DailyRate, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Finding, Sentence, Severity, listed};

impl SumpState {
    pub(super) fn findings(&self, run: &Run, answer: &SumpStateAnswer) -> Vec<Finding> {
        let mut findings: Vec<Finding> =
            answer.alarms.iter().map(|alarm| self.alarm(run, alarm)).collect();
        findings.extend(self.overfull(&answer.now));
        findings.extend(self.unmeasured_fillings(run));
        let steps = run.steps.iter().enumerate();
        for (k, step) in steps {
            let severity = if k + 1 == run.steps.len() { Severity::Act } else { Severity::Watch };
            let mut off = |size: Sentence, what: &'static str, member: &str| {
                let text = sentence!(
                    "Entry {} ({}): the {} is {} for what the log makes of it. Read it again; if it is \
                     right, something went in or out that is not written down: ask who was there.",
                    Measure::bare(f64::from(u32::try_from(step.entry + 1).unwrap_or(u32::MAX))),
                    self.at(run, step.day),
                    what,
                    size
                );
                let pointer = format!("/log/{}/{member}", step.entry);
                findings.push(Finding::new(severity, "reading-off", pointer, text));
            };
            if let Some(own) = step.volume.filter(|own| own.z.abs() > STEP) {
                let size = Volume::measure_of(own.off.abs()).rounded(2);
                off(by(size, own.off), "level", "volume");
            }
            if let Some(own) = step.strength.filter(|own| own.z.abs() > STEP) {
                let points = Concentration::measure_of((100.0 * own.off.abs()).min(100.0));
                off(by(points.rounded(2), own.off), "strength", "concentration");
            }
        }
        findings
    }

    /// The log makes it more than the sump holds: an amount is written twice, or too large, or
    /// one that went out is not written down.
    fn overfull(&self, now: &StateNow) -> Option<Finding> {
        let last = self.log.iter().rposition(|entry| entry.added.is_some());
        self.cannot_hold(now).then(|| {
            let text = sentence!(
                "By this log it holds {}, and it is full at {}. Something is written down twice or \
                 too large, or went out and is not written down. Read the level, correct the log, \
                 and pour nothing by it before that: it could run over.",
                now.volume.value.measure().rounded(3),
                self.sump.capacity
            );
            let pointer =
                last.map_or_else(|| "/log".to_owned(), |entry| format!("/log/{entry}/added"));
            Finding::new(Severity::Act, "more-than-full", pointer, text)
        })
    }

    fn alarm(&self, run: &Run, alarm: &StateAlarm) -> Finding {
        let what = match alarm.what {
            WatchedReading::Volume => "levels",
            WatchedReading::Strength => "strengths",
        };
        let way = match alarm.way {
            AlarmWay::High => "higher",
            AlarmWay::Low => "lower",
        };
        let causes = alarm.causes.iter().map(|cause| Sentence::fixed(cause.words()));
        let text = sentence!(
            "Since about {} the {} are {} than the log makes them, reading after reading; chance \
             does that once in {} readings. Likely, in this order: {}. Find the cause before the \
             sump is topped up by this log.",
            self.at(run, alarm.began.get()),
            what,
            way,
            Measure::bare(READINGS_BETWEEN),
            listed(causes)
        );
        Finding::new(Severity::Act, "slow-fault", "/log", text)
    }

    /// The sump is filled up time and again and nobody writes down how much that takes, so that
    /// its losses are learned from the strengths alone.
    fn unmeasured_fillings(&self, run: &Run) -> Option<Finding> {
        /// Fewer fillings are the beginning of a log.
        const FILLINGS: usize = 3;
        /// A standard uncertainty above this share of a loss leaves it open.
        const OPEN: f64 = 0.25;
        let is_unmeasured = |entry: &&LogEntry| {
            let added = entry.added.as_ref();
            entry.filled_to.is_some() && added.is_some_and(|added| added.volume.is_none())
        };
        let last = self.log.iter().rposition(|entry| is_unmeasured(&entry))?;
        let fillings = self.log.iter().filter(is_unmeasured).count();
        let (x, p) = (&run.last.x, &run.last.p);
        let loss = x[EVAPORATION] + x[CARRY_OFF];
        let variance = p[(EVAPORATION, EVAPORATION)]
            + p[(CARRY_OFF, CARRY_OFF)]
            + 2.0 * p[(EVAPORATION, CARRY_OFF)];
        let u = variance.max(0.0).sqrt();
        if fillings < FILLINGS || u <= OPEN * loss {
            return None;
        }
        let text = sentence!(
            "The sump was filled up {} times and nobody wrote down how much that took, so what it \
             loses is known only as {} (± {}). Write down how much the next few fillings take, by \
             counted cans or a meter in the hose: that costs nobody a reading.",
            Measure::bare(f64::from(u32::try_from(fillings).unwrap_or(u32::MAX))),
            DailyRate::measure_of(loss.max(0.0)).rounded(2),
            DailyRate::measure_of(COVERAGE * u).rounded(2)
        );
        let pointer = format!("/log/{last}/added");
        Some(Finding::new(Severity::Watch, "fillings-unmeasured", pointer, text))
    }

    /// A day as the log writes it, where the log that was handed in has it.
    pub(super) fn at(&self, run: &Run, day: f64) -> Sentence {
        let step = run.steps.iter().find(|step| step.day >= day && step.day <= day + 1e-9);
        match step.and_then(|step| self.log[step.entry].at.as_ref()) {
            Some(at) => sentence!("{}", at.said()),
            None => sentence!("day {}", Measure::bare((day * 100.0).round() / 100.0)),
        }
    }
}

fn by(size: Measure, off: f64) -> Sentence {
    if off > 0.0 { sentence!("{} too high", size) } else { sentence!("{} too low", size) }
}
