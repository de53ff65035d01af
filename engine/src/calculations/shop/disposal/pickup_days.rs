//! The days on which waste is picked up, from what arises each day.

use super::Disposal;
use super::category::StorageLimits;
use super::pickups::{Day, Schedule, schedule};
use super::storage_limits::categories;
use super::track::{Track, count, month_of};

use crate::handbook::conversions::DAYS_PER_MONTH;

/// The month, counted from 0, in which a day lies that is over at the end of it.
pub(super) fn month_of_pickup(day: f64) -> usize {
    month_of(day - 0.5).0
}

pub(super) fn plan_pickups(question: &Disposal, months: usize, counted: &Track) -> Schedule {
    let Some(storage) = question.storage else { return Schedule::default() };
    let by_month: Vec<StorageLimits> =
        categories(counted, months).into_iter().map(|month| storage.limits(month)).collect();
    let end = count(months) * DAYS_PER_MONTH;
    let mut days = Vec::new();
    let (mut before, mut day) = (0.0, 1.0);
    while day < end + 1.0 - 1e-6 {
        let by = counted.by_day(f64::min(day, end));
        // Beyond rounding, or a day on which nothing arises would count.
        let arising = by - before;
        let arising = if arising > 1e-12 * by { arising } else { 0.0 };
        before = by;
        // A day in which a month ends has waste of both.
        let own = |within: f64| by_month[month_of(day - within).0.min(months - 1)];
        let limits = own(1.0).and(own(1e-3));
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "at most a million"
        )]
        let stay = limits.days.map_or(usize::MAX, |days| days.floor() as usize);
        days.push(Day { arising, most: limits.mass.unwrap_or(f64::INFINITY), stay });
        day += 1.0;
    }
    schedule(&days)
}
