//! What a plan of tests dates: what is due today, and what comes.

use super::TestPlan;
use super::answer::{FluidTest, TestPlanAnswer};
use super::rules::called;
use crate::dated::{DatedEvent, DatedEvents};
use crate::sentence;
use crate::text::{CalendarDate, Name, Sentence};

impl TestPlan {
    pub(super) fn events(&self, answer: &TestPlanAnswer) -> Option<DatedEvents> {
        let today = self.today.day()?;
        let due = answer.due.iter().map(|own| (&own.machine, own.test, today, own.task()));
        let coming = answer
            .coming
            .iter()
            .map(|own| (&own.machine, own.test, own.due_on, sentence!("{}", called(own.test))));
        let events = due.chain(coming).map(event).collect();
        Some(DatedEvents { made_on: today, events })
    }
}

/// A test of a machine on a day; each comes once a day.
fn event((machine, test, day, text): (&Name, FluidTest, CalendarDate, Sentence)) -> DatedEvent {
    DatedEvent {
        key: format!("{}/{}/{day}", machine.as_str(), called(test)),
        day,
        title: sentence!("{}: {}", machine, called(test)),
        text,
    }
}
