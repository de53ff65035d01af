//! The log in numbers: what was seen, what was poured, and the time between.

use super::question::{AlsoEstimated, Losses};
use crate::quantity::Quantity;
use crate::text::Refusal;
use nalgebra::DVector;

/// A volume reading whose uncertainty is not said begins at this share of the
/// capacity: a level read off a wall or a dipstick. Common practice, no source;
/// it decides weights only until the scatter is known.
pub(super) const ASSUMED_VOLUME_SHARE: f64 = 0.02;
/// A strength whose uncertainty is not said begins at this many points. Common
/// practice for a hand refractometer, no source.
pub(super) const ASSUMED_POINTS: f64 = 0.2;

/// A log in the engine's numbers.
#[derive(Debug, Clone)]
pub(super) struct Log {
    pub(super) events: Vec<Event>,
    pub(super) observations: Vec<LogObservation>,
    /// How many hours a day the machine ran, where the log says.
    pub(super) hours_a_day: Option<f64>,
    /// The depletion ratio, or where to begin when it is asked for.
    pub(super) depletion: f64,
    pub(super) asks_depletion: bool,
    pub(super) asks_volume: bool,
    pub(super) capacity: f64,
}

/// One entry of a log.
#[derive(Debug, Clone, Copy)]
pub(super) struct Event {
    /// The day, as the log counts.
    pub(super) day: f64,
    /// How much of the losses' time has passed since the first entry, in days of
    /// the log's mean running hours.
    pub(super) worked: f64,
    pub(super) removed: f64,
    pub(super) added: f64,
    /// Strength of what was added, %.
    pub(super) strength: f64,
}

/// What an observation is of.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Seen {
    /// The volume at an entry.
    Volume(usize),
    /// The strength at an entry.
    Strength(usize),
    /// The evaporation, known from elsewhere.
    Evaporation,
    /// The carry-off, known from elsewhere.
    CarryOff,
}

/// A number that was observed.
#[derive(Debug, Clone, Copy)]
pub(super) struct LogObservation {
    pub(super) seen: Seen,
    pub(super) value: f64,
    pub(super) u: f64,
    /// Whether u is ours and not the caller's.
    pub(super) assumed: bool,
}

/// From an entry to the next.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    /// By the calendar.
    pub(super) days: f64,
    /// By the losses' time.
    pub(super) worked: f64,
}

impl Log {
    pub(super) fn stretch(&self, i: usize) -> Stretch {
        let (from, to) = (&self.events[i], &self.events[i + 1]);
        Stretch { days: to.day - from.day, worked: to.worked - from.worked }
    }

    /// The losses' time from the first entry to the last.
    pub(super) fn worked(&self) -> f64 {
        self.events.last().map_or(0.0, |event| event.worked)
    }

    /// By the calendar, from an entry to a later one.
    pub(super) fn days_between(&self, from: usize, to: usize) -> f64 {
        self.events[to].day - self.events[from].day
    }

    pub(super) fn values(&self) -> DVector<f64> {
        DVector::from_iterator(self.observations.len(), self.observations.iter().map(|o| o.value))
    }

    /// Whether an addition is a premix: neither water nor neat.
    pub(super) fn is_premix(&self, i: usize) -> bool {
        let event = &self.events[i];
        event.added > 0.0 && event.strength > 0.0 && event.strength < 100.0
    }
}

impl LogObservation {
    pub(super) fn is_volume(&self) -> bool {
        matches!(self.seen, Seen::Volume(_))
    }
}

impl Losses {
    /// The log in numbers, or all that is wrong with it.
    pub(super) fn read(&self) -> Result<Log, Refusal> {
        let days = self.days()?;
        let strengths = self.strengths()?;
        self.check(&days)?;
        let (worked, hours_a_day) = self.worked(&days);
        let entries = self.log.iter().zip(days.iter().zip(&worked));
        let events = entries.map(|(entry, (day, worked))| Event {
            day: *day,
            worked: *worked,
            removed: entry.removed.map_or(0.0, |removed| removed.volume.get()),
            added: entry.added.map_or(0.0, |added| added.volume.get()),
            strength: entry.added.map_or(0.0, |added| added.concentration.get()),
        });
        let log = Log {
            events: events.collect(),
            observations: self.observations(&strengths),
            hours_a_day,
            depletion: self.depletion(),
            asks_depletion: self.asks(AlsoEstimated::DepletionRatio),
            asks_volume: self.asks(AlsoEstimated::Volume),
            capacity: self.sump.capacity.get(),
        };
        self.check_identifiable(&log)?;
        Ok(log)
    }

    /// The losses' time at each entry, and the mean running hours of a day.
    fn worked(&self, days: &[f64]) -> (Vec<f64>, Option<f64>) {
        let since_first: Vec<f64> = days.iter().map(|day| day - days[0]).collect();
        let hours = self.log.iter().map(|entry| entry.running_hours.map(Quantity::get));
        let Some(hours) = hours.collect::<Option<Vec<f64>>>() else { return (since_first, None) };
        let (all_hours, all_days) =
            (hours[hours.len() - 1] - hours[0], since_first[days.len() - 1]);
        if all_hours <= 0.0 || all_days <= 0.0 {
            return (vec![0.0; days.len()], Some(0.0));
        }
        let a_day = all_hours / all_days;
        (hours.iter().map(|hour| (hour - hours[0]) / a_day).collect(), Some(a_day))
    }

    fn observations(&self, strengths: &[Option<f64>]) -> Vec<LogObservation> {
        let mut observations = Vec::new();
        let assumed_volume = self.sump.capacity.get() * ASSUMED_VOLUME_SHARE;
        for (i, (entry, strength)) in self.log.iter().zip(strengths).enumerate() {
            let said = [entry.reading_uncertainty, self.reading_uncertainty];
            let mut note = |seen, value, u: Option<f64>, ours| {
                let (u, assumed) = (u.unwrap_or(ours), u.is_none());
                observations.push(LogObservation { seen, value, u, assumed });
            };
            if let Some(volume) = entry.volume {
                let u = said.iter().flatten().find_map(|said| said.volume).map(Quantity::get);
                note(Seen::Volume(i), volume.get(), u, assumed_volume);
            }
            if let Some(strength) = *strength {
                let u = said.iter().flatten().find_map(|said| said.concentration);
                note(Seen::Strength(i), strength, u.map(Quantity::get), ASSUMED_POINTS);
            }
        }
        let known = self.known.unwrap_or_default();
        let rates = [(Seen::Evaporation, known.evaporation), (Seen::CarryOff, known.carry_off)];
        for (seen, rate) in rates {
            observations.extend(rate.map(|rate| {
                let (value, u) = (rate.value.get(), rate.u.get());
                LogObservation { seen, value, u, assumed: false }
            }));
        }
        observations
    }
}
