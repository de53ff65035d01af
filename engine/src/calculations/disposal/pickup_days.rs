//! The days on which waste is picked up, from what arises each day.

use super::track::{Track, count};
use super::{Disposal, MONTH_DAYS, pickups};
use crate::quantity::{Mass, Quantity};
use crate::refusal::{Kind, Refusal};
use crate::sentence::{Measure, Sentence};

/// The month, counted from 0, in which a day lies that is over at the end of it.
pub(super) fn month_of_pickup(day: f64) -> usize {
    super::track::month_of(day - 0.5).0
}

pub(super) fn plan_pickups(
    question: &Disposal,
    months: usize,
    counted: &Track,
) -> Result<Vec<f64>, Refusal> {
    let Some(limits) = question.storage_limits() else { return Ok(Vec::new()) };
    let end = count(months) * MONTH_DAYS;
    let mut daily = Vec::new();
    let mut before = 0.0;
    let mut day = 1.0;
    while day < end + 1.0 - 1e-6 {
        let by = counted.by_day(f64::min(day, end));
        // Beyond rounding, or a day on which nothing arises would count.
        let arising = by - before;
        daily.push(if arising > 1e-12 * by { arising } else { 0.0 });
        before = by;
        day += 1.0;
    }
    let most = limits.mass.unwrap_or(f64::INFINITY);
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "at most a million"
    )]
    let days = limits.days.map_or(usize::MAX, |days| days.floor() as usize);
    let planned = pickups::schedule(&daily, most, days)
        .map_err(|day| too_much_in_a_day(day, daily[day - 1], most))?;
    Ok(planned.into_iter().map(count).collect())
}

fn too_much_in_a_day(day: usize, arising: f64, most: f64) -> Refusal {
    let detail = "On day {} alone {} of waste arises, more than the {} that may be on site, so \
                  that no day of pickup keeps the limit. Share the changes out over more months, \
                  let them fall over the month, or leave the storage limits out to see the \
                  projection without pickups.";
    let detail = Sentence::new(detail)
        .with(Measure::bare(count(day)))
        .with(Measure::of(Mass::ROW, arising))
        .with(Measure::of(Mass::ROW, most));
    Refusal::new(Kind::Unreachable, "/storage", detail)
}
