//! The next weeks on paper: a day after the other, a line for each sump.

use super::answer::{CalendarAnswer, PlannedCleanOut};
use super::question::Calendar;
use crate::job_sheet::{JobSheet, SheetPart, SheetRecords, SheetTask};
use crate::quantity::{Count, Quantity};
use crate::sentence;
use crate::text::Sentence;

/// More weeks than this are for the next sheet: until then plans change.
const WEEKS: usize = 13;

impl Calendar {
    pub(super) fn job_sheet(answer: &CalendarAnswer) -> JobSheet {
        let from = answer.clean_outs.first().map_or(0, |first| first.week.whole());
        let soon = |own: &&PlannedCleanOut| own.week.whole() < from + WEEKS;
        let soon: Vec<&PlannedCleanOut> = answer.clean_outs.iter().filter(soon).collect();
        let parts = soon.chunk_by(|a, b| a.week == b.week).map(|week| {
            let tasks = week.iter().map(|own| task(own)).collect();
            SheetPart::headed(Self::heading(answer, week), tasks)
        });
        let mut notes = vec![sentence!(
            "Write the reading after the refill on the line. Who cannot keep a day takes the latest one \
             on its line, and says so: the plan is then made anew."
        )];
        let left = answer.clean_outs.len() - soon.len();
        if left > 0 {
            notes.push(sentence!("{} later clean-outs are on the sheets to come.", left));
        }
        JobSheet { parts: parts.collect(), notes, records: SheetRecords::Once }
    }

    /// "Week 3, from Monday 2027-01-18: 5.5 h".
    fn heading(answer: &CalendarAnswer, week: &[&PlannedCleanOut]) -> Sentence {
        let number: Count = week[0].week;
        let own = answer.weeks.get(number.whole().saturating_sub(1));
        match own {
            Some(own) => {
                sentence!("Week {}, from {}: {}", number, own.from.said(), own.hours.roughly())
            }
            None => sentence!("Week {}", number),
        }
    }
}

fn task(own: &PlannedCleanOut) -> SheetTask {
    let filled = match &own.product {
        Some(product) => {
            sentence!("drain, clean out, fill {} of {}", own.volume.roughly(), product)
        }
        None => sentence!("drain, clean out, fill {}", own.volume.roughly()),
    };
    let latest = if own.slip_days.get() > 0.0 {
        sentence!("at the latest on {}", own.may_slip_to.said())
    } else {
        sentence!("on no later day")
    };
    let text = sentence!(
        "{} by {}: {}; {}, {}",
        own.day.said(),
        &own.crew,
        filled,
        own.hours.roughly(),
        latest
    );
    SheetTask::of(text).at(own.sump.as_str()).read()
}
