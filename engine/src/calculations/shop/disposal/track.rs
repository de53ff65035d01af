//! An amount that builds up over the months, to be read at any day.

use crate::handbook::conversions::DAYS_PER_MONTH;

/// What arises of something: in each month evenly, and on its last day.
#[derive(Debug, Clone)]
pub(super) struct Track {
    steady: Vec<f64>,
    /// All that has arisen by the end of each month.
    by_month: Vec<f64>,
}

/// Days are told apart to this share of a month.
const SAME: f64 = 1e-9;

impl Track {
    pub(super) fn of(months: impl Iterator<Item = (f64, f64)>) -> Self {
        let mut by_month = vec![0.0];
        let mut total = 0.0;
        let mut steady = Vec::new();
        for (evenly, last_day) in months {
            total += evenly + last_day;
            by_month.push(total);
            steady.push(evenly);
        }
        Self { steady, by_month }
    }

    /// All that has arisen by the end of a month; 0 is the start.
    pub(super) fn by_month(&self, month: usize) -> f64 {
        self.by_month[month]
    }

    /// All that arises in a month, counted from 0.
    pub(super) fn in_month(&self, month: usize) -> f64 {
        self.by_month[month + 1] - self.by_month[month]
    }

    /// What of it arises evenly.
    pub(super) fn evenly(&self, month: usize) -> f64 {
        self.steady[month]
    }

    /// All that has arisen by a day.
    pub(super) fn by_day(&self, day: f64) -> f64 {
        let (month, within) = month_of(day);
        match self.steady.get(month) {
            Some(steady) => self.by_month[month] + steady * within,
            None => self.by_month[self.steady.len()],
        }
    }

    /// The day of a month, counted from 0, on which its amount comes to `amount`.
    pub(super) fn day_of(&self, month: usize, amount: f64) -> f64 {
        let share = if amount < self.steady[month] { amount / self.steady[month] } else { 1.0 };
        (count(month) + share) * DAYS_PER_MONTH
    }
}

/// Full months that have passed by a day, and the share of the next.
pub(super) fn month_of(day: f64) -> (usize, f64) {
    let months = day / DAYS_PER_MONTH;
    let full = (months + SAME).floor();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a few hundred")]
    let month = full as usize;
    (month, (months - full).max(0.0))
}

/// A number of things as a number to calculate with.
#[expect(clippy::cast_precision_loss, reason = "far fewer than 2^52")]
pub(super) const fn count(things: usize) -> f64 {
    things as f64
}
