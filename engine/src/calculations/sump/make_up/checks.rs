//! The checks of a request for a make-up.

use super::MakeUp;
use super::rates::Followed;
use crate::dynamics::working_calendar::WorkingCalendar;
use crate::fluid::batch::check_limits;
use crate::fluid::properties::{PropertyName, TRAMP_OIL};
use crate::fluid::stock::check_volume_shares;
use crate::fluid::supply::{check_concentrate, check_limits_are_about_something};
use crate::quantity::{Concentration, DailyRate, Measure, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Reachable, Refusal, concentration_range};

/// Tramp oil from which on a sump holds more of it than of fluid, % by volume.
const MORE_OIL_THAN_FLUID: f64 = 50.0;

impl MakeUp {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        if let Some(calendar) = &self.calendar {
            calendar.check("/calendar", &mut faults);
        }
        faults.or_refuse(Kind::OutOfRange)?;
        self.losses.check("/losses")?;
        let mut faults = Faults::default();
        self.check_calendar(&mut faults);
        check_limits(&self.limits, &mut faults);
        let (c, properties) = (self.sump.concentration, &self.sump.properties);
        check_volume_shares(c, properties, "/sump", &mut faults);
        for (water, pointer) in [(&self.water, "/water"), (&self.deionised, "/deionised")] {
            if let Some(water) = water {
                water.check(pointer, &mut faults);
            }
        }
        let own = self.concentrate.as_ref().map(|concentrate| &concentrate.properties);
        check_concentrate(own, "/concentrate", &mut faults);
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        let names = self.names();
        let known = names.iter().map(PropertyName::as_str).collect();
        check_limits_are_about_something(&self.limits, &known, &mut faults);
        faults.or_refuse(Kind::NotIdentifiable)?;
        self.check_depletion()
    }

    fn check_calendar(&self, faults: &mut Faults) {
        let calendar = self.calendar.as_ref();
        WorkingCalendar::check_counted(calendar, faults);
        WorkingCalendar::check_standing(calendar, self.standing, "/standing".into(), faults);
        let begins = calendar.and_then(WorkingCalendar::zero);
        if begins.is_some() && self.days_to_one_of_work().is_none() {
            let detail = sentence!(
                "By the calendar the shop does not work on a single day of the year from day 0 on. \
                 Check its days of work and its shutdowns."
            );
            faults.add("/calendar", detail);
        }
    }

    /// A make-up stronger than neat would be wanted only where what is carried off is: k·c
    /// above 100 %.
    fn check_depletion(&self) -> Result<(), Refusal> {
        let (k, d, c) =
            (self.losses.depletion(), self.losses.carried_off(), self.sump.concentration.get());
        if d == 0.0 || k * c <= 100.0 {
            return Ok(());
        }
        let detail = sentence!(
            "At {} and a depletion ratio of {}, what is carried off would hold more concentrate \
             than fluid, and no make-up replaces that. A sump of up to {} can be held, or a \
             depletion ratio of up to {}.",
            self.sump.concentration,
            Measure::bare(k),
            Concentration::measure_of(100.0 / k),
            Measure::bare(100.0 / c)
        );
        let concentration = Some(concentration_range(0.0, 100.0 / k)?);
        Err(Refusal::new(Kind::Unreachable, "/losses/depletion_ratio", detail)
            .reachable(Reachable { concentration, volume: None }))
    }

    /// Refuses a sump that would fill up with the oil of its water.
    pub(super) fn check_room_for_oil(&self, followed: &[Followed]) -> Result<(), Refusal> {
        let rates = self.rates();
        let Some(oil) = followed.iter().find(|property| property.name == TRAMP_OIL) else {
            return Ok(());
        };
        let (course, pace) = oil.course(&rates);
        let a_day = course.at(pace, pace.tau(1.0));
        let end = oil.settles_at(&rates).unwrap_or(a_day);
        let most = oil.shown(end.max(a_day));
        let is_fluid = oil.shown(end) <= MORE_OIL_THAN_FLUID;
        if is_fluid && most + self.sump.concentration.get() <= 100.0 {
            return Ok(());
        }
        if rates.l > 0.0 {
            let detail = sentence!(
                "With {} of oil leaking in, the sump fills up with oil, and nothing holds it at {}. \
                 See to the leak, or skim more.",
                DailyRate::measure_of(rates.l),
                self.sump.concentration
            );
            return Err(Refusal::new(Kind::Unreachable, "/oil/leak", detail));
        }
        let detail = sentence!(
            "With {} of oil in the water the sump fills up with oil, and nothing holds it at {}. \
             Use water without oil, or take the oil out of the sump.",
            Concentration::measure_of(oil.shown(oil.s_w)),
            self.sump.concentration
        );
        let pointer = format!("/water/properties/{TRAMP_OIL}");
        Err(Refusal::new(Kind::Unreachable, pointer, detail))
    }
}
