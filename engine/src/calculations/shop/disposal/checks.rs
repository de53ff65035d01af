//! What a projection may not contradict itself in as a whole.

use super::Disposal;
use super::sumps::{ChangeHabit, WasteGroup};
use super::track::count;
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::{Measure, Quantity, Share};
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal, Sentence};

/// The longest horizon, months.
const MONTHS_MOST: usize = 240;
/// Draws of a sampling.
const DRAWS_LEAST: usize = 10;

const DRAWS_MOST: usize = 5000;
/// The most work in one request: sumps that are changed together, times months,
/// times draws.
const WORK_MOST: f64 = 20e6;

impl Disposal {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.check_ranges(&mut faults);
        self.check_term_ranges(&mut faults);
        faults.or_refuse(Kind::OutOfRange)?;

        let mut faults = Faults::default();
        let names = self.groups.iter().map(|group| group.name.as_str());
        check_unique(names, "groups", "/groups", &mut faults);
        for (i, group) in self.groups.iter().enumerate() {
            group.check(&format!("/groups/{i}"), &mut faults);
        }
        self.check_water(&mut faults);
        self.check_recycler(&mut faults);
        self.check_terms(&mut faults);
        faults.or_refuse(Kind::Inconsistent)?;

        let mut faults = Faults::default();
        self.check_what_is_missing(&mut faults);
        faults.or_refuse(Kind::NotIdentifiable)?;
        self.check_work()
    }

    fn check_ranges(&self, faults: &mut Faults) {
        if !(1..=MONTHS_MOST).contains(&self.horizon()) {
            let detail = "A projection looks {} to {} months ahead.";
            let detail = Sentence::new(detail).with(Measure::bare(1.0));
            faults.add("/months", detail.with(Measure::bare(count(MONTHS_MOST))));
        }
        if !(DRAWS_LEAST..=DRAWS_MOST).contains(&self.draws()) {
            let detail = Sentence::new("A sampling has {} to {} draws.")
                .with(Measure::bare(count(DRAWS_LEAST)))
                .with(Measure::bare(count(DRAWS_MOST)));
            faults.add("/sampling/draws", detail);
        }
        for (i, group) in self.groups.iter().enumerate() {
            group.check_ranges(&format!("/groups/{i}"), faults);
        }
    }

    fn check_water(&self, faults: &mut Faults) {
        if self.water.as_ref().is_some_and(|water| water.properties.tramp_oil.is_some()) {
            let detail = "Make-up water brings no tramp oil. Give what leaks into a sump as the \
                          oil leak of its group.";
            faults.add(format!("/water/properties/{TRAMP_OIL}"), Sentence::new(detail));
        }
    }

    fn check_recycler(&self, faults: &mut Faults) {
        let Some(yields) = &self.recycler else { return };
        let parts = [Some(yields.recovered), yields.lost_with_oil, yields.lost_with_sludge];
        let all: f64 = parts.into_iter().flatten().map(Quantity::get).sum();
        if all > 100.0 {
            let detail = "What is recovered and what leaves with oil and with sludge come to {} of \
                          the dirty fluid, more than all of it.";
            let detail = Sentence::new(detail).with(Measure::of(Share::ROW, all));
            faults.add("/recycler/recovered", detail);
        }
    }

    fn check_what_is_missing(&self, faults: &mut Faults) {
        if self.has_spread() && self.sampling.is_none() {
            let detail = "A spread is given but not how to draw from it. Give a sampling with a \
                          seed, or leave the spreads out.";
            faults.add("/sampling", Sentence::new(detail));
        }
        if !self.has_spread() && self.sampling.is_some() {
            let detail = "There is nothing to draw from: no spread is given. Give the losses, the \
                          oil leak, the fines or the recovered share a spread, or leave the \
                          sampling out.";
            faults.add("/sampling", Sentence::new(detail));
        }
        let names = self.names();
        for (i, group) in self.groups.iter().enumerate() {
            if let Some(ChangeHabit::Forecast(habit)) = &group.change {
                habit.check(&names, &format!("/groups/{i}/change/limits"), faults);
            }
        }
    }

    /// Sumps that are changed together, times months, times draws.
    fn check_work(&self) -> Result<(), Refusal> {
        let walks: f64 = self.groups.iter().map(WasteGroup::walks).sum();
        let draws = if self.sampling.is_some() { count(self.draws()) + 1.0 } else { 1.0 };
        let work = walks * count(self.horizon()) * draws;
        if work <= WORK_MOST {
            return Ok(());
        }
        let detail = "This asks for {} steps (sumps that are changed together, times months, times \
                      draws), and one request may ask for {}. Ask for fewer draws or months, or \
                      put sumps that are alike into one group.";
        let detail = Sentence::new(detail).with(Measure::bare(work)).with(Measure::bare(WORK_MOST));
        Err(Refusal::new(Kind::OutOfRange, "", detail))
    }
}
