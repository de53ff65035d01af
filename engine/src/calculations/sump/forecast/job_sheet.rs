//! The visits to a sump on paper, week by week.

use super::{Forecast, ForecastAnswer};
use crate::fluid::measuring::MeasuringStep;
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::numerics::order;
use crate::quantity::{Measure, Quantity};
use crate::sentence;
use crate::text::Sentence;

/// So many weeks are on paper: the next sheet is made from a fresh reading.
const WEEKS: u32 = 4;
/// So many visits at most.
const VISITS: usize = 40;
const DAYS_PER_WEEK: f64 = 7.0;

impl Forecast {
    pub(super) fn job_sheet(&self, answer: &ForecastAnswer) -> JobSheet {
        let visits = self.visits(answer);
        let week_of = |visit: &(f64, Sentence)| (visit.0 / DAYS_PER_WEEK).floor();
        let from = visits.first().map_or(0.0, week_of);
        let near = visits.iter().take_while(|visit| week_of(visit) < from + f64::from(WEEKS));
        let near: Vec<&(f64, Sentence)> = near.take(VISITS).collect();
        let weeks = near.chunk_by(|a, b| week_of(a) == week_of(b));
        let parts = weeks.map(|visits| {
            let tasks = visits.iter().map(|(day, text)| {
                SheetTask::of(text.clone()).at(format!("Day {}", day.floor())).read()
            });
            SheetPart::headed(self.week(week_of(visits[0]), answer), tasks.collect())
        });
        // What is fed all the time is no visit, and has to be there all the same.
        let is_fed = near.first().is_none_or(|visit| week_of(visit) > 0.0);
        let ready = self.ready(answer).filter(|_| is_fed).map(|_| {
            let text = sentence!("see that it is there, for what is fed all the time");
            SheetPart::headed(self.week(0.0, answer), vec![SheetTask::of(text)])
        });
        let parts = ready.into_iter().chain(parts).collect();
        let notes = vec![sentence!(
            "Today is day 0. Let the fluid circulate after each visit and write down what it reads; \
             where that is out of its band, the forecast is made anew."
        )];
        JobSheet { parts, notes, records: SheetRecords::Once }
    }

    /// Every visit by its day, in order: feedings, planned changes, and what leaves its
    /// band all the same.
    fn visits(&self, answer: &ForecastAnswer) -> Vec<(f64, Sentence)> {
        let fed = answer.feedings.iter().map(|fed| (fed.day, self.feeding_up(fed)));
        let changes = self.changes.iter().flatten();
        let changed = changes.filter_map(|change| Some((change.day, self.changing(change)?)));
        let crossed = answer.crossings.iter().map(|crossing| {
            (crossing.day, sentence!("look at it and read it: {}", self.leaves(crossing)))
        });
        let visits = fed.chain(changed).chain(crossed).map(|(day, text)| (day.get(), text));
        let mut visits: Vec<(f64, Sentence)> = visits.collect();
        order::least_first(&mut visits, |(day, _)| *day);
        visits
    }

    /// The days of a week, and what to have ready for it where it is the first.
    fn week(&self, week: f64, answer: &ForecastAnswer) -> Sentence {
        let from = Measure::bare(week * DAYS_PER_WEEK);
        let to = Measure::bare((week + 1.0) * DAYS_PER_WEEK - 1.0);
        match self.ready(answer).filter(|_| week == 0.0) {
            Some(ready) => sentence!("Day {} to {}: have {} ready", from, to, ready),
            None => sentence!("Day {} to {}", from, to),
        }
    }

    /// What to have ready for the coming week, where something is fed in it.
    fn ready(&self, answer: &ForecastAnswer) -> Option<Measure> {
        let ready = answer.week.volume.get();
        let step = MeasuringStep::of(self.measures_to, [ready]);
        (ready > 0.0).then(|| step.measure(step.round(ready)))
    }
}
