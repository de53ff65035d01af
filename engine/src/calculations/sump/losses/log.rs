//! The log in numbers: what was seen, what was poured, and the time between.

use super::question::{AlsoEstimated, Losses};
use crate::dynamics::log::{LogTimes, PouredIn, ReadEntry, TakenOut};
use crate::dynamics::stretch::Stretch;
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
#[expect(clippy::struct_excessive_bools, reason = "independent facts of an entry")]
pub(super) struct Log {
    pub(super) events: Vec<Event>,
    pub(super) observations: Vec<LogObservation>,
    /// When its entries were written.
    pub(super) times: LogTimes,
    /// Whether the days on which the machine stands are counted for themselves.
    pub(super) has_standing: bool,
    /// Whether what evaporates on them is an unknown: the log tells it, or somebody does.
    pub(super) tells_standing: bool,
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
    /// How much of the losses' time has passed since the first entry: days of work, or days
    /// of the log's mean running hours.
    pub(super) worked: f64,
    /// How many days the machine has stood since the first entry.
    pub(super) stood: f64,
    pub(super) taken: TakenOut,
    pub(super) poured: PouredIn,
}

impl Event {
    /// Litres poured in by the log; none where it fills up without them.
    pub(super) fn added(&self) -> f64 {
        self.poured.litres.unwrap_or(0.0)
    }
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
    /// What evaporates on a day on which the machine stands, known from elsewhere.
    Standing,
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

impl Log {
    pub(super) fn stretch(&self, i: usize) -> Stretch {
        let (from, to) = (&self.events[i], &self.events[i + 1]);
        Stretch {
            days: to.day - from.day,
            worked: to.worked - from.worked,
            stood: to.stood - from.stood,
        }
    }

    /// The losses' time from the first entry to the last, and the days that the machine stood.
    pub(super) fn passed(&self) -> (f64, f64) {
        self.events.last().map_or((0.0, 0.0), |event| (event.worked, event.stood))
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
        let strength = event.poured.strength;
        event.poured.litres != Some(0.0) && strength > 0.0 && strength < 100.0
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
        let keeping = self.keeping();
        let times = keeping.times()?;
        let entries = keeping.read()?;
        self.check(&times)?;
        let spent = self.spent(&times, &entries);
        let events = times.days.iter().zip(&entries).enumerate().map(|(i, (day, entry))| Event {
            day: *day,
            worked: spent.worked[i],
            stood: spent.stood[i],
            taken: entry.taken,
            poured: entry.poured,
        });
        let has_standing = spent.stood.iter().any(|stood| *stood > 0.0);
        let log = Log {
            events: events.collect(),
            observations: self.observations(&entries, has_standing),
            has_standing,
            tells_standing: has_standing,
            hours_a_day: spent.hours_a_day,
            depletion: self.depletion(),
            asks_depletion: self.asks(AlsoEstimated::DepletionRatio),
            asks_volume: self.asks(AlsoEstimated::Volume),
            capacity: self.sump.capacity.get(),
            times,
        };
        self.check_identifiable(&log)?;
        Ok(log)
    }

    /// The losses' time at each entry, the days that the machine has stood, and the running
    /// hours of a day. An hour meter knows better than a calendar.
    fn spent(&self, times: &LogTimes, entries: &[ReadEntry]) -> TimeSpent {
        let days = &times.days;
        let since_first: Vec<f64> = days.iter().map(|day| day - days[0]).collect();
        let hours = self.log.iter().map(|entry| entry.running_hours.map(Quantity::get));
        let nowhere = vec![0.0; days.len()];
        if let Some(hours) = hours.collect::<Option<Vec<f64>>>() {
            let (all_hours, all_days) =
                (hours[hours.len() - 1] - hours[0], since_first[days.len() - 1]);
            if all_hours <= 0.0 || all_days <= 0.0 {
                let worked = nowhere.clone();
                return TimeSpent { worked, stood: nowhere, hours_a_day: Some(0.0) };
            }
            let a_day = all_hours / all_days;
            let worked = hours.iter().map(|hour| (hour - hours[0]) / a_day).collect();
            return TimeSpent { worked, stood: nowhere, hours_a_day: Some(a_day) };
        }
        let calendar = self.calendar.as_ref().zip(times.clocks.as_ref());
        let (mut worked, mut stood) = (vec![0.0], vec![0.0]);
        for i in 1..days.len() {
            let whole = days[i] - days[i - 1];
            let at_work = match calendar {
                _ if entries[i - 1].stood => 0.0,
                Some((calendar, clocks)) => calendar.worked(clocks[i - 1], clocks[i]),
                None => whole,
            };
            worked.push(worked[i - 1] + at_work);
            // The clock may have been set forward on a day of work.
            stood.push(stood[i - 1] + (whole - at_work).max(0.0));
        }
        let hours_a_day = calendar.and_then(|(calendar, _)| calendar.hours).map(Quantity::get);
        TimeSpent { worked, stood, hours_a_day }
    }

    fn observations(&self, entries: &[ReadEntry], has_standing: bool) -> Vec<LogObservation> {
        let mut observations = Vec::new();
        let assumed_volume = self.sump.capacity.get() * ASSUMED_VOLUME_SHARE;
        for (i, entry) in entries.iter().enumerate() {
            let mut note = |seen, value, u: Option<f64>, ours| {
                let (u, assumed) = (u.unwrap_or(ours), u.is_none());
                observations.push(LogObservation { seen, value, u, assumed });
            };
            if let Some(level) = entry.volume {
                note(Seen::Volume(i), level.value, level.u, assumed_volume);
            }
            if let Some(strength) = entry.strength {
                note(Seen::Strength(i), strength, entry.strength_u, ASSUMED_POINTS);
            }
        }
        let known = self.known.unwrap_or_default();
        let rates = [
            (Seen::Evaporation, known.evaporation),
            (Seen::CarryOff, known.carry_off),
            (Seen::Standing, known.standing.filter(|_| has_standing)),
        ];
        for (seen, rate) in rates {
            observations.extend(rate.map(|rate| {
                let (value, u) = (rate.value.get(), rate.u.get());
                LogObservation { seen, value, u, assumed: false }
            }));
        }
        observations
    }
}

/// How the time of a log was spent.
struct TimeSpent {
    worked: Vec<f64>,
    stood: Vec<f64>,
    /// Running hours of a day of work, where they are known.
    hours_a_day: Option<f64>,
}
