//! What is due today and what comes, equations 1 and 2.

use super::TestPlan;
use super::answer::{ComingTest, DueTest, FluidTest, TestPlanAnswer};
use super::question::TestedMachine;
use super::rules::{TESTS, TestRule};
use crate::numerics::cut_off::look;
use crate::quantity::{Count, Minutes, Quantity};
use crate::text::{CalendarDate, DayText, Refusal};
use std::borrow::Cow;

/// Days that are looked ahead by default.
const AHEAD: f64 = 7.0;
/// Minutes that tests take by default. Common practice, no source.
const MINUTES: [f64; 5] = [1.0, 2.0, 2.0, 2.0, 3.0];

impl TestedMachine {
    /// When a test was last done.
    fn last(&self, test: FluidTest) -> Option<CalendarDate> {
        let text = match test {
            FluidTest::Look => &self.looked_at,
            FluidTest::Strength => &self.strength_on,
            FluidTest::Ph => &self.ph_on,
            FluidTest::Nitrite => &self.nitrite_on,
            FluidTest::DipSlide => &self.slide_on,
            FluidTest::CleanOut => &self.cleaned_on,
        };
        text.as_ref().and_then(DayText::day)
    }
}

impl TestPlan {
    fn minutes_of(&self, test: FluidTest) -> Option<f64> {
        let own = self.minutes.unwrap_or_default();
        let (own, default) = match test {
            FluidTest::Look => (own.look, MINUTES[0]),
            FluidTest::Strength => (own.strength, MINUTES[1]),
            FluidTest::Ph => (own.ph, MINUTES[2]),
            FluidTest::Nitrite => (own.nitrite, MINUTES[3]),
            FluidTest::DipSlide => (own.slide, MINUTES[4]),
            FluidTest::CleanOut => return None,
        };
        Some(own.map_or(default, Quantity::get))
    }

    pub(super) fn planned(&self, today: CalendarDate) -> Result<TestPlanAnswer, Refusal> {
        let ahead = self.days_ahead.map_or(AHEAD, Quantity::get);
        let (mut due, mut coming) = (Vec::new(), Vec::new());
        for machine in &self.machines {
            look();
            for test in TESTS {
                let Some(rule) = self.rule(machine, test) else { continue };
                // Beyond the calendar nothing is due.
                let days = whole(rule.days);
                let on = machine.last(test).map(|last| last.later(days));
                match on {
                    None => due.push(self.due(machine, test, (None, today), rule)?),
                    Some(Some(on)) if on <= today => {
                        due.push(self.due(machine, test, (Some(on), today), rule)?);
                    }
                    Some(Some(on)) if on.days_since(today) <= whole(ahead) => {
                        coming.push(ComingTest { machine: machine.name.clone(), test, due_on: on });
                    }
                    Some(_) => {}
                }
            }
        }
        // What was never done comes first, then what is longest overdue; else in the order of the
        // walk.
        due.sort_by_key(|one| one.due_on);
        coming.sort_by_key(|one| one.due_on);
        let overdue = due.iter().filter(|one| one.due_on.is_none_or(|on| on < today)).count();
        let minutes: f64 = due.iter().filter_map(|one| one.minutes).map(Quantity::get).sum();
        Ok(TestPlanAnswer {
            due_today: Count::from_usize(due.len())?,
            overdue: Count::from_usize(overdue)?,
            minutes: Minutes::of(minutes)?,
            due,
            coming,
        })
    }

    fn due(
        &self,
        machine: &TestedMachine,
        test: FluidTest,
        (on, today): (Option<CalendarDate>, CalendarDate),
        rule: TestRule,
    ) -> Result<DueTest, Refusal> {
        let overdue = on.map(|on| Count::of(days(today.days_since(on))));
        Ok(DueTest {
            machine: machine.name.clone(),
            test,
            due_on: on,
            overdue_days: overdue.transpose()?,
            minutes: self.minutes_of(test).map(Minutes::of).transpose()?,
            text: rule.text,
            source: Cow::Borrowed(rule.source),
        })
    }
}

/// Whole days of an interval; what is left of a day does not put a test off.
#[expect(clippy::cast_possible_truncation, reason = "days have a bound far below that of i64")]
const fn whole(days: f64) -> i64 {
    days as i64
}

/// Days as a number of an answer.
#[expect(clippy::cast_precision_loss, reason = "the calendar has fewer days than a float counts")]
const fn days(count: i64) -> f64 {
    count as f64
}
