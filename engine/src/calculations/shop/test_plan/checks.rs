//! The checks of a plan of tests: days that cannot be.

use super::TestPlan;
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal};

/// The furthest that a plan looks ahead, in days.
const AHEAD_MOST: f64 = 366.0;

impl TestPlan {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        check_unique(
            self.machines.iter().map(|machine| machine.name.as_str()),
            "machines",
            "/machines",
            &mut faults,
        );
        for (i, machine) in self.machines.iter().enumerate() {
            let dates = [
                ("looked_at", machine.looked_at),
                ("strength_on", machine.strength_on),
                ("ph_on", machine.ph_on),
                ("nitrite_on", machine.nitrite_on),
                ("slide_on", machine.slide_on),
                ("cleaned_on", machine.cleaned_on),
            ];
            for (member, date) in dates {
                if let Some(date) = date.filter(|date| *date > self.today) {
                    let text = sentence!(
                        "{} is after today, {}. Correct the one or the other.",
                        date,
                        self.today
                    );
                    faults.add(format!("/machines/{i}/{member}"), text);
                }
            }
        }
        if let Some(ahead) = self.days_ahead.filter(|ahead| ahead.get() > AHEAD_MOST) {
            let text =
                sentence!("{} ahead are too many for a list: ask for a year at most.", ahead);
            faults.add("/days_ahead", text);
        }
        for (member, days) in super::rules::TESTS.iter().map(|test| (*test, self.own_days(*test))) {
            if days.is_some_and(|days| days.get() < 1.0) {
                let text = sentence!(
                    "The interval for {} is less than a day. Give whole days, 1 at least.",
                    super::rules::called(member)
                );
                faults.add(format!("/intervals/{}", super::interval_member(member)), text);
            }
        }
        faults.or_refuse(Kind::Inconsistent)
    }
}
