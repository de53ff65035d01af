//! What a plan of tests finds in the dates and results themselves.

use super::TestPlan;
use super::interval_member;
use super::rules::{TESTS, called, published};
use crate::fluid::practice::{few, nitrite, poor_count};
use crate::quantity::{Days, Quantity};
use crate::sentence;
use crate::text::Finding;

impl TestPlan {
    pub(super) fn findings(&self) -> Vec<Finding> {
        let machines = self.machines.iter().enumerate();
        let slides = machines.clone().filter_map(|(i, machine)| {
            let pointer = format!("/machines/{i}/slide_count");
            poor_count(machine.slide_count?, machine.name.as_str(), &pointer)
        });
        let nitrites = machines.filter_map(|(i, machine)| {
            let newest = *machine.nitrite.as_ref()?.first()?;
            nitrite("nitrite", newest, &format!("/machines/{i}/nitrite/0"))
        });
        few(slides).into_iter().chain(few(nitrites)).chain(self.laxer()).collect()
    }

    /// Intervals of the shop's own that are longer than the published ones at every machine.
    fn laxer(&self) -> impl Iterator<Item = Finding> {
        TESTS.into_iter().filter_map(|test| {
            let own = self.own_days(test)?;
            let longest = self.machines.iter().map(|machine| published(machine, test).days);
            let longest = longest.fold(0.0, f64::max);
            (own.get() > longest).then(|| {
                let text = sentence!(
                    "The shop's own interval for {}, {}, is longer than the published {}, which was \
                     used.",
                    called(test),
                    own,
                    Days::measure_of(longest)
                );
                let pointer = format!("/intervals/{}", interval_member(test));
                Finding::note("laxer-interval", pointer, text)
            })
        })
    }
}
