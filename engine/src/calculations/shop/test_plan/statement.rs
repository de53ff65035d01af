//! The statement: how many tests today, how long they take, and which is the longest overdue.

use super::answer::{FluidTest, TestPlanAnswer};
use super::rules::called;
use super::{TestPlan, answer::DueTest};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::{CalendarDate, Sentence};

impl TestPlan {
    /// The day that the list is for, as people say it.
    fn said_today(&self) -> String {
        self.today.day().map(CalendarDate::said).unwrap_or_default()
    }

    pub(super) fn in_short(&self, answer: &TestPlanAnswer) -> Sentence {
        sentence!("{}{}", self.due_today(answer), Self::coming_next(answer))
    }

    fn due_today(&self, answer: &TestPlanAnswer) -> Sentence {
        let Some(first) = answer.due.first() else {
            return sentence!("Nothing is due on {}.", self.said_today());
        };
        let many = tests(answer.due_today.get());
        let is_cleaned = answer.due.iter().any(|due| due.test == FluidTest::CleanOut);
        let what = sentence!(
            "{} due on {}, {} of work{}",
            many,
            self.said_today(),
            answer.minutes.roughly(),
            if is_cleaned { " without clean-outs" } else { "" }
        );
        match first.overdue_days.map(Quantity::get) {
            None => sentence!(
                "{}. Begin with {}: {}, never written down.",
                what,
                &first.machine,
                called(first.test)
            ),
            Some(days) if days > 0.0 => sentence!(
                "{}. {} overdue. Begin with {}: {}, overdue by {}.",
                what,
                overdue(answer.overdue.get()),
                &first.machine,
                called(first.test),
                whole_days(days)
            ),
            Some(_) => sentence!("{}. Nothing is overdue.", what),
        }
    }

    fn coming_next(answer: &TestPlanAnswer) -> Sentence {
        match answer.coming.first() {
            None => sentence!(""),
            Some(next) => sentence!(
                " Next: {}, {} on {}.",
                &next.machine,
                called(next.test),
                next.due_on.said()
            ),
        }
    }
}

/// "1 test is" or "14 tests are".
fn tests(many: f64) -> String {
    if many == 1.0 { "1 test is".to_owned() } else { format!("{many} tests are") }
}

fn overdue(many: f64) -> String {
    if many == 1.0 { "1 is".to_owned() } else { format!("{many} are") }
}

fn whole_days(days: f64) -> String {
    if days == 1.0 { "1 day".to_owned() } else { format!("{days} days") }
}

impl DueTest {
    /// What to do, on a job sheet.
    pub(super) fn task(&self) -> Sentence {
        match self.overdue_days.map(Quantity::get) {
            Some(days) if days > 0.0 => {
                sentence!(
                    "{}, overdue by {} ({})",
                    called(self.test),
                    whole_days(days),
                    self.text.clone()
                )
            }
            Some(_) => sentence!("{} ({})", called(self.test), self.text.clone()),
            None => sentence!("{}, never written down ({})", called(self.test), self.text.clone()),
        }
    }
}
