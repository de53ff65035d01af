//! When the entries of a log were written, in days, and how much of that time was worked.

use super::LogKeeping;
use crate::dynamics::working_calendar::{WORK_BEGINS, WorkingCalendar, days_between};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, Sentence, WrittenMoment, with_nearest};
use jiff::Timestamp;
use jiff::civil::{DateTime, Time};
use jiff::tz::{Disambiguation, TimeZone, TimeZoneDatabase};

const SECONDS_IN_A_DAY: f64 = 86_400.0;

/// When the entries of a log were written.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct LogTimes {
    /// Days: as the log counts, or since its first entry.
    pub days: Vec<f64>,
    /// What the shop's clock showed, where the log says.
    pub clocks: Option<Vec<DateTime>>,
    /// Whether a moment is a date alone.
    pub dates_alone: bool,
    /// Whether moments are of a clock of which nobody said where it hangs.
    pub clock_anywhere: bool,
}

/// The zone of the caller's, by its IANA name.
pub(super) fn zone(name: &str) -> Result<TimeZone, Sentence> {
    let zones = TimeZoneDatabase::bundled();
    zones.get(name).map_err(|_| {
        let known: Vec<String> = zones.available().map(|known| known.to_string()).collect();
        let unknown = sentence!(
            "No time zone is called \"{}\". Names are those of the IANA, such as Europe/Berlin.",
            name
        );
        with_nearest(unknown, name, known.iter().map(String::as_str))
    })
}

/// The instant at which a clock shows a time. Where the clock was set back and shows it
/// twice, the later is taken only where the earlier lies before the entry before.
pub(super) fn instant(
    zone: &TimeZone,
    clock: DateTime,
    before: Option<Timestamp>,
) -> Option<Timestamp> {
    let shown = zone.to_ambiguous_zoned(clock);
    let of = |way| shown.clone().disambiguate(way).ok().map(|zoned| zoned.timestamp());
    let first = of(Disambiguation::Compatible)?;
    match before {
        Some(before) if first < before && shown.is_ambiguous() => of(Disambiguation::Later),
        _ => Some(first),
    }
}

/// The hour of the morning at which a date alone is taken to be read.
pub(super) fn morning(calendar: Option<&WorkingCalendar>) -> Time {
    calendar.map_or(WorkingCalendar::default().begins(), WorkingCalendar::begins)
}

impl LogKeeping<'_> {
    /// When each entry was written, or each fault in it.
    pub fn times(&self) -> Result<LogTimes, Refusal> {
        self.check_which()?;
        let mut faults = Faults::default();
        if let Some(calendar) = self.calendar {
            calendar.check("/calendar", &mut faults);
        }
        let mut zoned = None;
        if let Some(name) = self.time_zone {
            match zone(name) {
                Ok(zone) => zoned = Some(zone),
                Err(detail) => faults.add("/time_zone", detail),
            }
        }
        let mut written = Vec::with_capacity(self.log.len());
        for (i, entry) in self.log.iter().enumerate() {
            let Some(at) = &entry.at else { continue };
            match at.read(self.date_order) {
                Ok(moment) => written.push(moment),
                Err(detail) => faults.add(format!("/log/{i}/at"), detail),
            }
        }
        faults.or_refuse(Kind::OutOfRange)?;
        if written.is_empty() {
            return Ok(self.counted());
        }
        let is_local = |moment: &WrittenMoment| !matches!(moment, WrittenMoment::Instant(..));
        let local = written.iter().filter(|moment| is_local(moment)).count();
        if zoned.is_none() && local > 0 && local < written.len() {
            // Those that are the fewer were written another way.
            let odd_is_local = 2 * local <= written.len();
            let odd = written.iter().position(|moment| is_local(moment) == odd_is_local);
            let detail = sentence!(
                "Some moments of the log have their offset from UTC and others have not. Give the \
                 time zone of the shop (time_zone), such as Europe/Berlin."
            );
            let pointer = format!("/log/{}/at", odd.unwrap_or(0));
            return Err(Refusal::new(Kind::Inconsistent, pointer, detail));
        }
        self.dated(&written, zoned.as_ref())
    }

    /// A log that counts days.
    fn counted(&self) -> LogTimes {
        let days: Vec<f64> =
            self.log.iter().map(|entry| entry.day.map_or(0.0, Quantity::get)).collect();
        let zero = self.calendar.and_then(WorkingCalendar::zero);
        let clock = |zero: DateTime, day: f64| {
            let since = jiff::SignedDuration::try_from_secs_f64(day * SECONDS_IN_A_DAY).ok()?;
            zero.checked_add(since).ok()
        };
        let clocks = zero.and_then(|zero| days.iter().map(|day| clock(zero, *day)).collect());
        LogTimes { days, clocks, ..LogTimes::default() }
    }

    /// A log with moments.
    fn dated(
        &self,
        written: &[WrittenMoment],
        zone: Option<&TimeZone>,
    ) -> Result<LogTimes, Refusal> {
        let morning = morning(self.calendar);
        let mut times = LogTimes { clock_anywhere: zone.is_none(), ..LogTimes::default() };
        let mut clocks = Vec::with_capacity(written.len());
        let mut instants: Vec<Option<Timestamp>> = Vec::with_capacity(written.len());
        for (i, moment) in written.iter().enumerate() {
            let clock = match *moment {
                WrittenMoment::Instant(instant, clock) => {
                    times.clock_anywhere = false;
                    clocks.push(zone.map_or(clock, |zone| zone.to_datetime(instant)));
                    instants.push(Some(instant));
                    continue;
                }
                WrittenMoment::Clock(clock) => clock,
                WrittenMoment::Day(day) => {
                    times.dates_alone = true;
                    day.to_datetime(morning)
                }
            };
            let before = instants.last().copied().flatten();
            let at = zone.map(|zone| instant(zone, clock, before));
            if at == Some(None) {
                let detail = sentence!("No clock of the time zone shows this time.");
                return Err(Refusal::new(Kind::OutOfRange, format!("/log/{i}/at"), detail));
            }
            clocks.push(clock);
            instants.push(at.flatten());
        }
        times.days = match instants.iter().copied().collect::<Option<Vec<Timestamp>>>() {
            Some(instants) => {
                let since = |at: &Timestamp| at.duration_since(instants[0]).as_secs_f64();
                instants.iter().map(|at| since(at) / SECONDS_IN_A_DAY).collect()
            }
            None => clocks.iter().map(|clock| days_between(clocks[0], *clock)).collect(),
        };
        times.clocks = Some(clocks);
        Ok(times)
    }

    /// Each entry has a moment or a day, and all of them the same.
    fn check_which(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        let begins_dated = self.log.first().is_some_and(|entry| entry.at.is_some());
        for (i, entry) in self.log.iter().enumerate() {
            match (&entry.at, entry.day) {
                (Some(_), Some(_)) => {
                    let detail = sentence!(
                        "The time of this entry is given twice, as a moment and as a day. Give one \
                         of them."
                    );
                    faults.add(format!("/log/{i}/day"), detail);
                }
                (None, None) => {
                    let detail = sentence!(
                        "The time of this entry is missing. Give the moment (at) or the day."
                    );
                    faults.add(format!("/log/{i}"), detail);
                }
                (Some(_), None) if !begins_dated => {
                    let detail = sentence!("The log begins with days; go on with days.");
                    faults.add(format!("/log/{i}/at"), detail);
                }
                (None, Some(_)) if begins_dated => {
                    let detail = sentence!("The log begins with moments; go on with moments.");
                    faults.add(format!("/log/{i}/day"), detail);
                }
                _ => {}
            }
        }
        faults.or_refuse(Kind::Inconsistent)
    }
}

/// The hour of the morning at which a date alone is taken to be read.
#[must_use]
pub fn usual_morning(calendar: Option<&WorkingCalendar>) -> f64 {
    calendar.and_then(|calendar| calendar.begins).map_or(WORK_BEGINS, Quantity::get)
}
