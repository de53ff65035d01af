//! Which test is due at which machine today.
//!
//! *What do I have to measure today, where, and what is overdue?*
//!
//! With t the day of the last test and n the days between two:
//!
//! 1. a test is due on t + n; where it was never written down, it is due today
//! 2. n is the published interval, or the shop's own where that is shorter
//! 3. nitrite: n is 28 after three results in a row below 10 mg/L, else 7
//!
//! A machine that stands is looked at, has its dip slide and is cleaned out; the rest waits until it
//! works again. Sources: UK HSE (appearance and odour daily; strength, pH and dip slide weekly),
//! DGUV Regel 109-003 (the same; clean-out at least yearly, Annex 5), TRGS 611 (nitrite). Minutes are
//! common practice, no source.

mod answer;
mod cautions;
mod checks;
mod due;
mod events;
mod findings;
mod job_sheet;
mod question;
mod rules;
mod statement;

pub use answer::{ComingTest, DueTest, FluidTest, TestPlanAnswer};
pub use question::{MachineUse, TestIntervals, TestMinutes, TestPlan, TestedMachine};

use crate::calculation::{Calculation, Outcome};
use crate::dated::ListEvents;
use crate::job_sheet::MakeSheet;
use crate::sentence;
use crate::text::{Assumption, Refusal, Sentence, filed, said};

impl Calculation for TestPlan {
    const NAME: &'static str = "test-plan";
    const SUMMARY: &'static str = "Which test of the fluid is due at which machine today, by the \
                                   published rules and the shop's own";
    const EXAMPLE: &'static str = include_str!("../../../../../examples/test-plan.json");
    const LIST: Option<&'static str> = Some("machines");
    const ANSWER_LIST: Option<&'static str> = Some("due");
    const SHEET: Option<MakeSheet<Self, TestPlanAnswer>> = Some(Self::job_sheet);
    const EVENTS: Option<ListEvents<Self, TestPlanAnswer>> = Some(Self::events);
    type Answer = TestPlanAnswer;

    fn calculate(&self) -> Result<Outcome<TestPlanAnswer>, Refusal> {
        let today = self.check()?;
        let answer = self.planned(today)?;
        Ok(Outcome {
            findings: said(|| self.findings()),
            balance: None,
            assumptions: filed(|| self.assumptions()),
            cautions: said(|| cautions::cautions(&answer)),
            answer,
        })
    }

    fn statement(&self, answer: &TestPlanAnswer) -> Sentence {
        self.in_short(answer)
    }
}

/// The member of the shop's own intervals that a test has.
const fn interval_member(test: FluidTest) -> &'static str {
    match test {
        FluidTest::Look => "look_days",
        FluidTest::Strength => "strength_days",
        FluidTest::Ph => "ph_days",
        FluidTest::Nitrite => "nitrite_days",
        FluidTest::DipSlide => "slide_days",
        FluidTest::CleanOut => "clean_out_days",
    }
}

impl TestPlan {
    fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::new(
            "/machines",
            sentence!("A test without a date was taken as never done, and is due today."),
        )];
        if self.minutes.is_none() {
            let text = sentence!(
                "Minutes per test were taken from common practice: 1 to look, 2 for a reading or a \
                 strip, 3 for a slide."
            );
            assumptions.push(Assumption::new("/minutes", text));
        }
        assumptions
    }
}
