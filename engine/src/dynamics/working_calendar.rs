//! When a shop works: weekdays, holidays, shutdowns.
//!
//! A day of work lasts from the hour at which work begins to the same hour of the next day,
//! and what a machine loses on it is spread evenly over it. On every other day the machine
//! stands: no chips carry fluid off, and water goes on evaporating at a rate of its own.

use crate::numerics::cut_off::look;
use crate::quantity::{DailyRate, DayHours, Quantity};
use crate::sentence;
use crate::text::{DayText, Faults};
use jiff::civil::{Date, DateTime, Time, Weekday};
use jiff::{SignedDuration, ToSpan};
use serde::{Deserialize, Serialize};
use serde_with::skip_serializing_none;
use utoipa::ToSchema;

/// The hour at which work begins where nobody says. Common practice, no source.
pub const WORK_BEGINS: f64 = 6.0;
const SECONDS_IN_A_DAY: f64 = 86_400.0;

/// The days on which the shop works.
#[skip_serializing_none]
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct WorkingCalendar {
    /// # Days of work
    ///
    /// Days of the week on which the shop works. Default: Monday to Friday.
    #[schema(max_items = 7)]
    pub weekdays: Option<Vec<DayOfWeek>>,
    /// # Work begins at
    ///
    /// Hour at which a day of work begins, at which a log kept by dates alone is read too.
    /// Default: 6.
    #[schema(example = 6.0)]
    pub begins: Option<DayHours>,
    /// # Hours of work
    ///
    /// Hours that the machine runs on a day of work, for losses per hour. Default: no losses
    /// per hour are worked out.
    #[schema(example = 16.0)]
    pub hours: Option<DayHours>,
    /// # Holidays
    ///
    /// Days on which the shop does not work though it is a day of work.
    pub holidays: Option<Vec<DayText>>,
    /// # Shutdowns
    ///
    /// Times at which the shop is shut.
    pub shutdowns: Option<Vec<ShopShutdown>>,
    /// # Day 0 is
    ///
    /// Date of day 0, where days are counted and not dated. Default: the first dated moment.
    pub day_zero: Option<DayText>,
}

/// A time at which the shop is shut.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct ShopShutdown {
    /// # From
    ///
    /// The first day on which it does not work.
    #[schema(example = "2026-12-24")]
    pub from: DayText,
    /// # To
    ///
    /// The last day on which it does not work.
    #[schema(example = "2027-01-01")]
    pub to: DayText,
}

/// A day of the week.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, ToSchema)]
#[serde(rename_all = "snake_case")]
pub enum DayOfWeek {
    /// Monday.
    Monday,
    /// Tuesday.
    Tuesday,
    /// Wednesday.
    Wednesday,
    /// Thursday.
    Thursday,
    /// Friday.
    Friday,
    /// Saturday.
    Saturday,
    /// Sunday.
    Sunday,
}

impl DayOfWeek {
    /// Monday to Friday.
    pub(crate) const WORKING: [Self; 5] =
        [Self::Monday, Self::Tuesday, Self::Wednesday, Self::Thursday, Self::Friday];
    /// The rest of the week.
    pub(crate) const WEEKEND: [Self; 2] = [Self::Saturday, Self::Sunday];
    /// All of it.
    pub(crate) const ALL: [Self; 7] = [
        Self::Monday,
        Self::Tuesday,
        Self::Wednesday,
        Self::Thursday,
        Self::Friday,
        Self::Saturday,
        Self::Sunday,
    ];

    fn civil(self) -> Weekday {
        match self {
            Self::Monday => Weekday::Monday,
            Self::Tuesday => Weekday::Tuesday,
            Self::Wednesday => Weekday::Wednesday,
            Self::Thursday => Weekday::Thursday,
            Self::Friday => Weekday::Friday,
            Self::Saturday => Weekday::Saturday,
            Self::Sunday => Weekday::Sunday,
        }
    }
}

impl WorkingCalendar {
    /// The hour at which a day of work begins.
    #[must_use]
    pub fn begins(&self) -> Time {
        clock(self.begins.map_or(WORK_BEGINS, Quantity::get))
    }

    /// Notes what is no calendar, at `pointer`.
    pub fn check(&self, pointer: &str, faults: &mut Faults) {
        if let Some(day) = &self.day_zero {
            day.check(format!("{pointer}/day_zero"), faults);
        }
        for (i, day) in self.holidays.iter().flatten().enumerate() {
            day.check(format!("{pointer}/holidays/{i}"), faults);
        }
        for (i, shut) in self.shutdowns.iter().flatten().enumerate() {
            shut.from.check(format!("{pointer}/shutdowns/{i}/from"), faults);
            shut.to.check(format!("{pointer}/shutdowns/{i}/to"), faults);
            if let (Some(from), Some(to)) = (shut.from.day(), shut.to.day())
                && to < from
            {
                let detail = sentence!("This shutdown ends before it begins.");
                faults.add(format!("{pointer}/shutdowns/{i}/to"), detail);
            }
        }
    }

    /// The date of day 0, where it is given.
    #[must_use]
    pub fn zero(&self) -> Option<DateTime> {
        let day = self.day_zero.as_ref().and_then(DayText::day)?;
        Some(day.civil().to_datetime(self.begins()))
    }

    /// Whether the shop works on a day.
    #[must_use]
    pub fn works_on(&self, day: Date) -> bool {
        let weekday = day.weekday();
        let usual = match &self.weekdays {
            Some(days) => days.iter().any(|own| own.civil() == weekday),
            None => !matches!(weekday, Weekday::Saturday | Weekday::Sunday),
        };
        let is_shut = |shut: &ShopShutdown| {
            let (from, to) = (shut.from.day(), shut.to.day());
            from.zip(to).is_some_and(|(from, to)| from.civil() <= day && day <= to.civil())
        };
        let mut holidays = self.holidays.iter().flatten().filter_map(DayText::day);
        usual
            && !holidays.any(|holiday| holiday.civil() == day)
            && !self.shutdowns.iter().flatten().any(is_shut)
    }

    /// Days of work between two moments of the clock: whole ones and parts of them.
    #[must_use]
    pub fn worked(&self, from: DateTime, to: DateTime) -> f64 {
        let begins = self.begins();
        let Ok(mut day) = from.date().yesterday() else { return 0.0 };
        let mut worked = 0.0;
        while day <= to.date() {
            look();
            let Ok(next) = day.tomorrow() else { break };
            if self.works_on(day) {
                let (first, last) = (day.to_datetime(begins), next.to_datetime(begins));
                worked += days_between(first.max(from), last.min(to)).max(0.0);
            }
            day = next;
        }
        worked
    }

    /// Notes that a calendar says not of which day on days are counted.
    pub fn check_counted(calendar: Option<&Self>, faults: &mut Faults) {
        if calendar.is_some_and(|calendar| calendar.day_zero.is_none()) {
            let detail = sentence!(
                "A calendar says which days are days of work only from a date on. Give the date of \
                 day 0 (calendar.day_zero)."
            );
            faults.add("/calendar/day_zero", detail);
        }
    }

    /// Notes what evaporates while a machine stands, at `pointer`, where nothing says when that is.
    pub fn check_standing(
        calendar: Option<&Self>,
        standing: Option<DailyRate>,
        pointer: String,
        faults: &mut Faults,
    ) {
        if standing.is_some() && calendar.is_none() {
            let detail = sentence!(
                "What evaporates while the machine stands counts only with a working calendar, \
                 which says when it stands. Give one, or leave this out."
            );
            faults.add(pointer, detail);
        }
    }

    /// Days of work from one day to a later one, both counted from day 0; none where day 0 has no
    /// date, or a day is beyond all dates.
    #[must_use]
    pub fn worked_between(&self, from: f64, to: f64) -> Option<f64> {
        let zero = self.zero()?;
        let at = |day: f64| {
            let since = SignedDuration::try_from_secs_f64(day * SECONDS_IN_A_DAY).ok()?;
            zero.checked_add(since).ok()
        };
        Some(self.worked(at(from)?, at(to)?))
    }

    /// The days after `zero`, in days from it, on which work begins or ends, up to `last`; the
    /// first is day 0 with whether the shop works on it.
    #[must_use]
    pub fn turns(&self, zero: DateTime, last: f64) -> Vec<WorkTurn> {
        let begins = self.begins();
        let Ok(mut day) = zero.date().yesterday() else { return Vec::new() };
        let mut turns: Vec<WorkTurn> = Vec::new();
        loop {
            look();
            let at = days_between(zero, day.to_datetime(begins));
            if at > last {
                break;
            }
            let works = self.works_on(day);
            let turn = WorkTurn { day: at.max(0.0), works };
            match turns.last_mut() {
                // What was the case before day 0 counts only until then.
                Some(before) if at <= 0.0 => *before = turn,
                Some(before) if before.works == works => {}
                _ => turns.push(turn),
            }
            let Ok(next) = day.tomorrow() else { break };
            day = next;
        }
        turns
    }
}

/// From a day on the shop works, or does not.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WorkTurn {
    /// The day, counted from day 0.
    pub day: f64,
    /// Whether it works from then on.
    pub works: bool,
}

/// Days from one moment of the clock to another.
#[must_use]
pub fn days_between(from: DateTime, to: DateTime) -> f64 {
    to.duration_since(from).as_secs_f64() / SECONDS_IN_A_DAY
}

/// The time of day at an hour.
fn clock(hours: f64) -> Time {
    #[expect(clippy::cast_possible_truncation, reason = "hours of a day in minutes")]
    let minutes = (hours * 60.0).round().min(1439.0) as i64;
    Time::midnight().wrapping_add(minutes.minutes())
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use serde_json::json;

    fn calendar(document: serde_json::Value) -> WorkingCalendar {
        serde_json::from_value(document).expect("a calendar")
    }

    fn at(month: i8, day: i8, hour: i8) -> DateTime {
        date(2026, month, day).at(hour, 0, 0, 0)
    }

    /// 2026-03-02 was a Monday. From Friday morning to Monday morning one day is worked.
    #[test]
    fn weekends_holidays_and_shutdowns_are_no_days_of_work() {
        let plain = calendar(json!({}));
        assert!((plain.worked(at(3, 6, 6), at(3, 9, 6)) - 1.0).abs() < 1e-12);
        assert!((plain.worked(at(3, 2, 6), at(3, 30, 6)) - 20.0).abs() < 1e-12);
        // From noon on three quarters of the day are left.
        assert!((plain.worked(at(3, 6, 12), at(3, 9, 12)) - 1.0).abs() < 1e-12);
        assert!((plain.worked(at(3, 6, 12), at(3, 8, 0)) - 0.75).abs() < 1e-12);
        let shut = calendar(json!({
            "weekdays": ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday"],
            "holidays": ["2026-03-11"],
            "shutdowns": [{ "from": "2026-03-20", "to": "2026-03-24" }],
        }));
        assert!((shut.worked(at(3, 2, 6), at(3, 30, 6)) - (24.0 - 1.0 - 4.0)).abs() < 1e-12);
    }

    #[test]
    fn the_turns_of_a_week_are_its_ends() {
        let plain = calendar(json!({}));
        let turn = |day, works| WorkTurn { day, works };
        let turns = plain.turns(at(3, 5, 6), 9.0);
        assert_eq!(turns, [turn(0.0, true), turn(2.0, false), turn(4.0, true), turn(9.0, false)]);
        let turns = plain.turns(at(3, 7, 18), 3.0);
        assert_eq!(turns, [turn(0.0, false), turn(1.5, true)]);
        // Between midnight and the beginning of work it is still the day before.
        let turns = plain.turns(at(3, 2, 3), 1.0);
        assert_eq!(turns, [turn(0.0, false), turn(0.125, true)]);
    }
}
