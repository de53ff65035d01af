//! The days of the plan: which day of the week each is, who works, and which machine stands.

use super::question::{Calendar, CleaningCrew, DaySpan, SumpInCalendar};
use crate::dynamics::working_calendar::DayOfWeek;
use crate::quantity::Quantity;
use crate::text::{CalendarDate, DayText};

/// Weeks that are planned by default.
const WEEKS: f64 = 52.0;
/// The most weeks that are planned.
pub(super) const WEEKS_MOST: f64 = 104.0;
pub(super) const DAYS_A_WEEK: usize = 7;

/// The days of a plan, counted from 0 on its first.
#[derive(Debug, Clone)]
pub(super) struct Diary {
    pub(super) from: CalendarDate,
    pub(super) days: usize,
    closed: Vec<bool>,
    standing: Vec<bool>,
}

impl Calendar {
    /// Weeks that are planned.
    pub(super) fn weeks_ahead(&self) -> f64 {
        self.weeks.map_or(WEEKS, Quantity::get)
    }

    /// The same before it has been checked.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "it has been clamped"
    )]
    pub(super) fn weeks_at_most(&self) -> usize {
        self.weeks_ahead().clamp(1.0, WEEKS_MOST) as usize
    }

    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a count of weeks that has been checked"
    )]
    pub(super) fn diary(&self, from: CalendarDate) -> Diary {
        let days = self.weeks_ahead() as usize * DAYS_A_WEEK;
        let mut diary = Diary { from, days, closed: Vec::new(), standing: Vec::new() };
        diary.closed = diary.within(self.closed.as_deref());
        diary.standing = diary.within(self.standing.as_deref());
        diary
    }
}

impl Diary {
    /// The date of a day.
    pub(super) fn date(&self, day: usize) -> CalendarDate {
        let days = i64::try_from(day).unwrap_or(i64::MAX);
        self.from.later(days).unwrap_or(self.from)
    }

    /// The day that a date is, before the plan less than 0.
    pub(super) fn day(&self, date: CalendarDate) -> i64 {
        date.days_since(self.from)
    }

    /// The day of the plan that a date is.
    pub(super) fn planned_day(&self, text: &DayText) -> Option<usize> {
        let day = usize::try_from(self.day(text.day()?)).ok()?;
        (day < self.days).then_some(day)
    }

    pub(super) fn weekday(&self, day: usize) -> DayOfWeek {
        DayOfWeek::ALL[(self.from.weekday() + day) % DAYS_A_WEEK]
    }

    /// The week, Monday to Sunday, counted from 0.
    pub(super) fn week(&self, day: usize) -> usize {
        (self.from.weekday() + day) / DAYS_A_WEEK
    }

    /// For each day whether it lies in one of these spans.
    fn within(&self, spans: Option<&[DaySpan]>) -> Vec<bool> {
        let mut within = vec![false; self.days];
        for span in spans.unwrap_or_default() {
            let Some(from) = span.from.day() else { continue };
            let to = span.to.as_ref().and_then(DayText::day).unwrap_or(from);
            let from = usize::try_from(self.day(from)).unwrap_or(0);
            let to = usize::try_from(self.day(to).saturating_add(1)).unwrap_or(0);
            if let Some(days) = within.get_mut(from.min(self.days)..to.min(self.days)) {
                days.fill(true);
            }
        }
        within
    }

    /// The days on which a crew works.
    pub(super) fn works(&self, crew: &CleaningCrew) -> Vec<bool> {
        let away = self.within(crew.away.as_deref());
        let on: &[DayOfWeek] = crew.works_on.as_deref().unwrap_or(&DayOfWeek::WORKING);
        (0..self.days)
            .map(|day| on.contains(&self.weekday(day)) && !away[day] && !self.closed[day])
            .collect()
    }

    /// The days on which a machine stands.
    pub(super) fn stands(&self, sump: &SumpInCalendar) -> Vec<bool> {
        let own = self.within(sump.stands.as_deref());
        let on: &[DayOfWeek] = sump.stands_on.as_deref().unwrap_or(&DayOfWeek::WEEKEND);
        (0..self.days)
            .map(|day| {
                own[day]
                    || self.standing[day]
                    || self.closed[day]
                    || on.contains(&self.weekday(day))
            })
            .collect()
    }

    /// Whether something runs on a day that does so on these days of the week.
    pub(super) fn runs(&self, day: usize, on: Option<&[DayOfWeek]>) -> bool {
        on.unwrap_or(&DayOfWeek::WORKING).contains(&self.weekday(day)) && !self.closed[day]
    }

    /// Each calendar month that is planned: its first day and the day after its last one.
    pub(super) fn months(&self) -> Vec<(usize, usize)> {
        let mut months: Vec<(usize, usize)> = Vec::new();
        for day in 0..self.days {
            let goes_on = day > 0 && self.date(day).month() == self.date(day - 1).month();
            match months.last_mut() {
                Some(month) if goes_on => month.1 = day + 1,
                _ => months.push((day, day + 1)),
            }
        }
        months
    }
}
