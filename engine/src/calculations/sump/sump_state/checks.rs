//! The checks of a log and a state: what contradicts itself, and the log in numbers.

use super::question::SumpState;
use crate::dynamics::log::{LogEntry, LogKeeping, LogTimes, ReadEntry};
use crate::fluid::properties::{PropertyName, TRAMP_OIL};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Fault, Faults, Kind, Refusal, names};
use std::collections::BTreeSet;

/// A log in numbers.
#[derive(Debug)]
pub(super) struct Taken {
    /// Of the state, where there is one, the entries, and now.
    pub(super) times: LogTimes,
    pub(super) entries: Vec<ReadEntry>,
    /// How many moments stand before those of the entries.
    pub(super) before: usize,
}

impl SumpState {
    fn keeping<'a>(&'a self, log: &'a [LogEntry]) -> LogKeeping<'a> {
        LogKeeping {
            sump: &self.sump,
            log,
            fluids: self.fluids.as_deref().unwrap_or_default(),
            time_zone: self.time_zone.as_deref(),
            date_order: self.date_order,
            calendar: self.calendar.as_ref(),
            reading_uncertainty: self.reading_uncertainty,
        }
    }

    /// The log in numbers, or all that is wrong with it.
    pub(super) fn taken(&self) -> Result<Taken, Refusal> {
        let before = usize::from(self.state.is_some());
        let times = self.times(before)?;
        let entries = self.keeping(&self.log).read()?;
        let mut faults = Faults::default();
        self.check_order(&times, before, &mut faults);
        if let Some(band) = &self.band {
            band.note_faults(&mut faults);
        }
        let fluids = self.fluids.iter().flatten().map(|fluid| fluid.name.as_str());
        names::check_unique(fluids, "fluids", "/fluids", &mut faults);
        if self.calendar.is_some() && times.clocks.is_none() {
            let detail = sentence!(
                "A log that counts days says not which of them are days of work. Give the date of \
                 day 0 (calendar.day_zero), or dates in the log."
            );
            faults.add("/calendar/day_zero", detail);
        }
        for (i, entry) in self.log.iter().enumerate() {
            if entry.properties.tramp_oil.is_some() {
                let detail = sentence!(
                    "Tramp oil leaks in at a rate that no log shows, so it is not followed here. \
                     Leave it out."
                );
                faults.add(format!("/log/{i}/properties/{TRAMP_OIL}"), detail);
            }
        }
        if self.losses.and_then(|losses| losses.depletion_ratio).is_some_and(|k| k.get() == 0.0) {
            let detail =
                sentence!("With a depletion ratio of nothing no concentrate is ever lost.");
            faults.add("/losses/depletion_ratio", detail);
        }
        faults.or_refuse(Kind::Inconsistent)?;
        Ok(Taken { times, entries, before })
    }

    /// When the state was, the entries are, and now is.
    fn times(&self, before: usize) -> Result<LogTimes, Refusal> {
        let mut moments: Vec<LogEntry> = Vec::with_capacity(self.log.len() + 2);
        let of = |at: &Option<_>, day| {
            let entry = LogEntry::default();
            LogEntry { at: Clone::clone(at), day, ..entry }
        };
        if let Some(state) = &self.state {
            let day = state.at.is_none().then_some(state.day);
            moments.push(of(&state.at, day));
        }
        moments.extend(self.log.iter().map(|entry| of(&entry.at, entry.day)));
        if self.now.is_some() || self.now_day.is_some() {
            moments.push(of(&self.now, self.now_day));
        }
        let end = before + self.log.len();
        let times = self.keeping(&moments).times();
        let mut times = times.map_err(|refusal| Refusal {
            faults: refusal.faults.into_iter().map(|fault| placed(fault, before, end)).collect(),
            ..refusal
        })?;
        // A dated log counts from the state on as it counted up to it.
        if let Some(state) = self.state.as_ref().filter(|state| state.at.is_some()) {
            times.days.iter_mut().for_each(|day| *day += state.day.get());
        }
        Ok(times)
    }

    fn check_order(&self, times: &LogTimes, before: usize, faults: &mut Faults) {
        for (i, pair) in times.days.windows(2).enumerate() {
            if pair[1] >= pair[0] {
                continue;
            }
            let at = i + 1;
            let (pointer, detail) = if at >= before + self.log.len() {
                let pointer = if self.now.is_some() { "/now" } else { "/now_day" };
                let detail = sentence!(
                    "Now is before the last entry of the log. Check both; a log is not read backwards."
                );
                (pointer.to_owned(), detail)
            } else if at == before {
                let detail = sentence!(
                    "This entry is older than the state. The state has the entries up to its own \
                     moment already: hand in those since."
                );
                ("/log/0".to_owned(), detail)
            } else {
                let detail = sentence!(
                    "This entry is older than the one before it. Put the log in order of time."
                );
                (format!("/log/{}", at - before), detail)
            };
            faults.add(pointer, detail);
        }
    }

    /// What is followed beside the concentrate.
    pub(super) fn names(&self) -> Vec<PropertyName> {
        let read = self.log.iter().flat_map(|entry| entry.properties.matter.keys().cloned());
        let brought = self.fluids.iter().flatten();
        let brought = brought.flat_map(|fluid| fluid.properties.matter.keys().cloned());
        let kept = self.state.iter().flat_map(|state| &state.properties);
        let kept = kept.map(|own| PropertyName::from(own.name.as_str()));
        let names: BTreeSet<PropertyName> = read.chain(brought).chain(kept).collect();
        names.into_iter().collect()
    }
}

/// A fault of a moment at its place in the question.
fn placed(fault: Fault, before: usize, end: usize) -> Fault {
    let Some(rest) = fault.pointer.strip_prefix("/log/") else { return fault };
    let (place, member) =
        rest.split_once('/').map_or((rest, ""), |(place, member)| (place, member));
    let Ok(place) = place.parse::<usize>() else { return fault };
    let pointer = if place < before {
        format!("/state/{member}")
    } else if place >= end {
        if member == "day" { "/now_day".to_owned() } else { "/now".to_owned() }
    } else {
        let tail = rest.find('/').map_or("", |at| &rest[at..]);
        format!("/log/{}{tail}", place - before)
    };
    Fault { pointer, ..fault }
}
