//! Contradictions and gaps in the request for a projection.

mod groups;
mod terms;

pub(super) use groups::check_machines;

use super::bands::SAMPLING;
use super::track::count;
use super::{ChangeHabit, Disposal, WasteGroup};
use crate::dynamics::working_calendar::WorkingCalendar;
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::{Measure, Quantity, Share};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal};

/// The most work in one projection: sumps that are changed together, times months.
const STEPS_MOST: usize = 20_000_000;

impl Disposal {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.check_ranges(&mut faults);
        self.check_term_ranges(&mut faults);
        if let Some(calendar) = &self.calendar {
            calendar.check("/calendar", &mut faults);
        }
        faults.or_refuse(Kind::OutOfRange)?;

        let mut faults = Faults::default();
        let names = self.groups.iter().map(|group| group.name.as_str());
        check_unique(names, "groups", "/groups", &mut faults);
        let calendar = self.calendar.as_ref();
        WorkingCalendar::check_counted(calendar, &mut faults);
        for (i, group) in self.groups.iter().enumerate() {
            group.check(&format!("/groups/{i}"), &mut faults);
            let pointer = format!("/groups/{i}/standing");
            WorkingCalendar::check_standing(calendar, group.standing, pointer, &mut faults);
        }
        self.check_water(&mut faults);
        self.check_recycler(&mut faults);
        self.check_terms(&mut faults);
        faults.or_refuse(Kind::Inconsistent)?;

        let mut faults = Faults::default();
        for (i, group) in self.groups.iter().enumerate() {
            group.losses.note_missing(&|| format!("/groups/{i}/losses"), &mut faults);
        }
        self.check_what_is_missing(&mut faults);
        faults.or_refuse(Kind::NotIdentifiable)?;
        self.check_work()
    }

    fn check_ranges(&self, faults: &mut Faults) {
        for (i, group) in self.groups.iter().enumerate() {
            group.check_ranges(&format!("/groups/{i}"), faults);
        }
    }

    fn check_water(&self, faults: &mut Faults) {
        if self.water.as_ref().is_some_and(|water| water.properties.tramp_oil.is_some()) {
            let detail = sentence!(
                "Make-up water brings no tramp oil. Give what leaks into a sump as the oil leak \
                 of its group."
            );
            faults.add(format!("/water/properties/{TRAMP_OIL}"), detail);
        }
    }

    fn check_recycler(&self, faults: &mut Faults) {
        let Some(yields) = &self.recycler else { return };
        let parts = [Some(yields.recovered), yields.lost_with_oil, yields.lost_with_sludge];
        let all: f64 = parts.into_iter().flatten().map(Quantity::get).sum();
        if all > 100.0 {
            let detail = sentence!(
                "What is recovered and what leaves with oil and with sludge add up to {} of the \
                 dirty fluid, more than all of it.",
                Share::measure_of(all)
            );
            faults.add("/recycler/recovered", detail);
        }
    }

    fn check_what_is_missing(&self, faults: &mut Faults) {
        if self.has_spread() && self.sampling.is_none() {
            let detail = sentence!(
                "A spread is given, but no sampling to draw from it. Give a sampling, or leave the \
                 spreads out."
            );
            faults.add(SAMPLING, detail);
        }
        if !self.has_spread() && self.sampling.is_some() {
            let detail = sentence!(
                "A sampling is given, but no spread to draw from. Give the losses, the oil leak, \
                 the fines or the recovered share a spread, or leave the sampling out."
            );
            faults.add(SAMPLING, detail);
        }
        let names = self.names();
        for (i, group) in self.groups.iter().enumerate() {
            if let Some(ChangeHabit::Forecast(habit)) = &group.change {
                habit.check(&names, &format!("/groups/{i}/change/limits"), faults);
            }
        }
    }

    /// Sumps that are changed together, times months.
    pub(super) fn steps(&self) -> usize {
        self.groups.iter().map(WasteGroup::parts).sum::<usize>() * self.horizon()
    }

    fn check_work(&self) -> Result<(), Refusal> {
        let steps = self.steps();
        if steps > STEPS_MOST {
            let detail = sentence!(
                "This asks for {} steps (sumps that are changed together, times months), and {} \
                 are the most. Ask for fewer months, or put sumps that are alike into one group.",
                Measure::bare(count(steps)),
                Measure::bare(count(STEPS_MOST))
            );
            return Err(Refusal::new(Kind::OutOfRange, "", detail));
        }
        self.sampler().map(|_| ())
    }
}
