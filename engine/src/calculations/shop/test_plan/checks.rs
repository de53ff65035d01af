//! The checks of a plan of tests: days that cannot be.

use super::{TestPlan, TestedMachine};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{CalendarDate, DayText, Faults, Kind, Refusal};

/// The furthest that a plan looks ahead, in days.
const AHEAD_MOST: f64 = 366.0;

impl TestPlan {
    /// The day that the list is for.
    pub(super) fn check(&self) -> Result<CalendarDate, Refusal> {
        let mut faults = Faults::default();
        self.today.check("/today", &mut faults);
        for (i, machine) in self.machines.iter().enumerate() {
            for (member, date) in machine.dates() {
                if let Some(date) = date {
                    date.check(format!("/machines/{i}/{member}"), &mut faults);
                }
            }
        }
        faults.or_refuse(Kind::OutOfRange)?;
        let mut faults = Faults::default();
        let Some(today) = self.today.day() else {
            return Err(Refusal::new(Kind::OutOfRange, "/today", sentence!("Today is no day.")));
        };
        check_unique(
            self.machines.iter().map(|machine| machine.name.as_str()),
            "machines",
            "/machines",
            &mut faults,
        );
        for (i, machine) in self.machines.iter().enumerate() {
            for (member, date) in machine.dates() {
                let date = date.and_then(DayText::day);
                if let Some(date) = date.filter(|date| *date > today) {
                    let text = sentence!(
                        "{} is after today, {}. Correct the one or the other.",
                        date,
                        today
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
        faults.or_refuse(Kind::Inconsistent)?;
        Ok(today)
    }
}

impl TestedMachine {
    /// Its dates, by their members.
    fn dates(&self) -> [(&'static str, Option<&DayText>); 6] {
        [
            ("looked_at", self.looked_at.as_ref()),
            ("strength_on", self.strength_on.as_ref()),
            ("ph_on", self.ph_on.as_ref()),
            ("nitrite_on", self.nitrite_on.as_ref()),
            ("slide_on", self.slide_on.as_ref()),
            ("cleaned_on", self.cleaned_on.as_ref()),
        ]
    }
}
