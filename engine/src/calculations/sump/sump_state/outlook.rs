//! When the next reading is worth taking.

use super::alarms::WatchedReading;
use super::answer::{COVERAGE, NextReading};
use super::estimate::moment;
use super::filter::{Belief, CONCENTRATE, VOLUME};
use super::question::SumpState;
use super::run::Run;
use crate::numerics::cut_off::look;
use crate::quantity::{Days, Quantity};
use crate::text::Refusal;
use jiff::SignedDuration;

/// No reading is put off for longer than this, in days.
const FARTHEST: u32 = 90;

/// The first moment at which the interval of 95 % is no longer within the band, or within the
/// levels, to a hundredth of a day.
pub(super) fn next_reading(
    question: &SumpState,
    run: &Run,
) -> Result<Option<NextReading>, Refusal> {
    if question.band.is_none() && question.lowest.is_none() {
        return Ok(None);
    }
    let mut within = 0.0;
    for day in 0..=FARTHEST {
        look();
        let day = f64::from(day);
        let Some(what) = question.may_be_out(run, day) else {
            within = day;
            continue;
        };
        let (mut low, mut high, mut what) = (within, day, what);
        while high - low > 0.01 {
            let middle = low.midpoint(high);
            match question.may_be_out(run, middle) {
                Some(first) => (high, what) = (middle, first),
                None => low = middle,
            }
        }
        let in_days = if day == 0.0 { 0.0 } else { high };
        return Ok(Some(NextReading {
            day: Days::of(run.now_day + in_days)?,
            in_days: Days::of(in_days)?,
            what,
        }));
    }
    Ok(None)
}

impl SumpState {
    /// What may be out of bounds so many days from now, if anything.
    fn may_be_out(&self, run: &Run, days: f64) -> Option<WatchedReading> {
        let Some(then) = self.then(run, days) else { return Some(WatchedReading::Volume) };
        let lowest = self.lowest.map_or(0.0, Quantity::get);
        if then.x[VOLUME] - COVERAGE * then.u(VOLUME) < lowest {
            return Some(WatchedReading::Volume);
        }
        let (value, u, _) = then.per_litre(CONCENTRATE);
        let is_out = self.band.as_ref().is_some_and(|band| {
            value - COVERAGE * u < band.low.get() / 100.0
                || value + COVERAGE * u > band.high.get() / 100.0
        });
        is_out.then_some(WatchedReading::Strength)
    }

    /// The sump so many days from now, if nothing is done; none where it would be dry.
    fn then(&self, run: &Run, days: f64) -> Option<Belief> {
        let from = moment(&run.times, run.times.days.len() - 1);
        let span = SignedDuration::try_from_secs_f64(days * 86_400.0).ok()?;
        let to = from.and_then(|from| from.checked_add(span).ok());
        let stretch = self.stretch((run.now_day, run.now_day + days), (from, to), run.stands);
        run.now.through(stretch, run.wandering).map(|(belief, _)| belief)
    }
}
