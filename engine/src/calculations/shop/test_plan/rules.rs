//! How often each test is done: the published rules, and the shop's own where it tests more often.

use super::answer::FluidTest;
use super::question::{MachineUse, TestPlan, TestedMachine};
use crate::quantity::{Content, Days, Quantity};
use crate::sentence;
use crate::text::Sentence;

/// Days between tests (UK HSE and DGUV Regel 109-003: appearance daily; strength, pH and dip slide
/// weekly; TRGS 611: nitrite weekly).
const DAILY: f64 = 1.0;
const WEEKLY: f64 = 7.0;
/// Nitrite after three low results (TRGS 611: up to four weeks).
const FOUR_WEEKS: f64 = 28.0;
/// Nitrite below which a result is low, mg/L (TRGS 611).
const LOW_NITRITE: f64 = 10.0;
/// So many results in a row have to be low (TRGS 611).
const LOW_RESULTS: usize = 3;
/// DGUV Regel 109-003, example in Annex 5: at least yearly.
const YEARLY: f64 = 365.0;

/// What is tested, in the order in which one does it at a machine.
pub(super) const TESTS: [FluidTest; 6] = [
    FluidTest::Look,
    FluidTest::Strength,
    FluidTest::Ph,
    FluidTest::Nitrite,
    FluidTest::DipSlide,
    FluidTest::CleanOut,
];

/// How often a test is done, and who asks for it.
pub(super) struct TestRule {
    /// Days from one to the next.
    pub(super) days: f64,
    pub(super) text: Sentence,
    pub(super) source: &'static str,
}

/// What a test is called.
pub(super) const fn called(test: FluidTest) -> &'static str {
    match test {
        FluidTest::Look => "look and smell",
        FluidTest::Strength => "strength",
        FluidTest::Ph => "pH",
        FluidTest::Nitrite => "nitrite",
        FluidTest::DipSlide => "dip slide",
        FluidTest::CleanOut => "clean-out",
    }
}

impl TestedMachine {
    /// Whether nitrite was low so often in a row that it may wait.
    fn has_little_nitrite(&self) -> bool {
        let results: &[Content] = self.nitrite.as_deref().unwrap_or_default();
        let low = results.iter().take_while(|content| content.get() < LOW_NITRITE).count();
        low >= LOW_RESULTS
    }

    /// A machine that stands is looked at and has its slide; what is read for the day's work waits
    /// until it works again. Common practice, no source.
    fn is_tested_for(&self, test: FluidTest) -> bool {
        !matches!(self.works, Some(MachineUse::Stands))
            || matches!(test, FluidTest::Look | FluidTest::DipSlide | FluidTest::CleanOut)
    }
}

impl TestPlan {
    /// The shop's own days between two tests.
    pub(super) fn own_days(&self, test: FluidTest) -> Option<Days> {
        let own = self.intervals?;
        match test {
            FluidTest::Look => own.look_days,
            FluidTest::Strength => own.strength_days,
            FluidTest::Ph => own.ph_days,
            FluidTest::Nitrite => own.nitrite_days,
            FluidTest::DipSlide => own.slide_days,
            FluidTest::CleanOut => own.clean_out_days,
        }
    }

    /// The rule for a test of a machine; none where it is not tested for that.
    pub(super) fn rule(&self, machine: &TestedMachine, test: FluidTest) -> Option<TestRule> {
        if !machine.is_tested_for(test) {
            return None;
        }
        let published = published(machine, test);
        let own = self.own_days(test).filter(|own| own.get() < published.days);
        Some(match own {
            Some(own) => TestRule {
                days: own.get(),
                text: sentence!("the shop's own rule: every {}", own),
                source: "the shop",
            },
            None => published,
        })
    }
}

/// The published rule for a test.
pub(super) fn published(machine: &TestedMachine, test: FluidTest) -> TestRule {
    let rule = |days, text, source| TestRule { days, text: sentence!("{}", text), source };
    match test {
        FluidTest::Look => rule(DAILY, "look and smell every day", "UK HSE; DGUV Regel 109-003"),
        FluidTest::Strength => rule(WEEKLY, "strength every week", "UK HSE; DGUV Regel 109-003"),
        FluidTest::Ph => rule(WEEKLY, "pH every week", "UK HSE; DGUV Regel 109-003"),
        FluidTest::Nitrite if machine.has_little_nitrite() => rule(
            FOUR_WEEKS,
            "nitrite every four weeks, after three results below 10 mg/L",
            "TRGS 611",
        ),
        FluidTest::Nitrite => rule(WEEKLY, "nitrite every week", "TRGS 611"),
        FluidTest::DipSlide => rule(WEEKLY, "dip slide every week", "UK HSE"),
        FluidTest::CleanOut => {
            rule(YEARLY, "clean-out at least once a year", "DGUV Regel 109-003, Annex 5")
        }
    }
}
