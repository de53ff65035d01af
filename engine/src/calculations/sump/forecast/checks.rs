//! The checks of a request for a forecast.

use super::{FeedStock, Feeding, Forecast};
use crate::dynamics::working_calendar::WorkingCalendar;
use crate::dynamics::{CourseStop, FEEDINGS_MOST};
use crate::fluid::hardness;
use crate::fluid::properties::check_room;
use crate::fluid::stock::check_volume_shares;
use crate::fluid::supply::{
    check_concentrate, check_limits_are_about_something, check_not_all_oil,
};
use crate::numerics::order;
use crate::quantity::{Capacity, Concentration, Days, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};

/// The shortest time between two feedings by the calendar, in days: an hour.
const DAYS_LEAST: f64 = 1.0 / 24.0;

impl Forecast {
    /// The strength of the sump, once all checks are passed.
    pub(super) fn check(&self) -> Result<Concentration, Refusal> {
        self.check_days()?;
        self.losses.check("/losses")?;
        let mut faults = Faults::default();
        self.sump.check(&mut faults);
        if self.sump.volume.get() == 0.0 {
            let detail =
                sentence!("The sump is empty, so there is nothing to forecast. Fill it first.");
            faults.add("/sump/volume", detail);
        }
        if let Some(band) = &self.band {
            band.note_faults(&mut faults);
        }
        if let Some(sheet) = &self.sheet {
            sheet.check("/sheet", &mut faults);
        }
        self.kept().check(&mut faults);
        self.check_levels(&mut faults);
        self.check_changes(&mut faults);
        self.check_feeding(&mut faults);
        let calendar = self.calendar.as_ref();
        WorkingCalendar::check_counted(calendar, &mut faults);
        WorkingCalendar::check_standing(calendar, self.standing, "/standing".into(), &mut faults);
        let strength = self.sump.strength();
        if let Ok(Some(c)) = strength {
            self.check_depletion(c, &mut faults);
        }
        faults.or_refuse(Kind::Inconsistent)?;
        self.sump.check_strength_given()?;
        let mut faults = Faults::default();
        check_limits_are_about_something(&self.limits, &self.known(), &mut faults);
        self.check_target_given(&mut faults);
        faults.or_refuse(Kind::NotIdentifiable)?;
        Ok(match strength? {
            Some(strength) => strength,
            None => Concentration::of(0.0)?,
        })
    }

    fn check_days(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        if let Some(Feeding::Every(every)) = &self.feeding
            && every.days.get() < DAYS_LEAST
        {
            let detail = sentence!(
                "Feedings every {} are too close together: they must be an hour apart, {}, or more. \
                 Give what is fed more often as fed always.",
                every.days,
                Days::measure_of(DAYS_LEAST)
            );
            faults.add("/feeding/days", detail);
        }
        check_room("/days", Days::of(self.days.get())?, self.known().len(), &mut faults);
        if let Some(calendar) = &self.calendar {
            calendar.check("/calendar", &mut faults);
        }
        faults.or_refuse(Kind::OutOfRange)
    }

    fn check_depletion(&self, c: Concentration, faults: &mut Faults) {
        let (k, d) = (self.losses.depletion(), self.losses.carried_off());
        if d > 0.0 && k * c.get() > 100.0 {
            let detail = sentence!(
                "At {} and a depletion ratio of {}, what is carried off would hold more concentrate \
                 than fluid. The ratio can be {} at most; it is 1 where the fluid is carried off as \
                 it is.",
                c,
                Measure::bare(k),
                Measure::bare(100.0 / c.get())
            );
            faults.add("/losses/depletion_ratio", detail);
        }
    }

    fn check_levels(&self, faults: &mut Faults) {
        let (least, most) = self.levels();
        if let Some(least) = least
            && least > most
        {
            let detail = sentence!(
                "The lowest level, {}, lies above the highest, {}.",
                Volume::measure_of(least),
                Volume::measure_of(most)
            );
            faults.add("/levels/min", detail);
        }
    }

    fn check_changes(&self, faults: &mut Faults) {
        for (i, change) in self.changes.iter().flatten().enumerate() {
            if change.day.get() > self.days.get() {
                let detail = sentence!(
                    "The change after {} lies beyond the end of the forecast, {}.",
                    change.day,
                    self.days
                );
                faults.add(format!("/changes/{i}/day"), detail);
            }
            if change.removed.is_none() && change.added.is_none() {
                let detail = sentence!(
                    "This change neither removes nor adds fluid. Give one of the two, or leave the \
                     change out."
                );
                faults.add(format!("/changes/{i}"), detail);
            }
            if let Some(added) = &change.added {
                let pointer = format!("/changes/{i}/added");
                check_volume_shares(added.concentration, &added.properties, &pointer, faults);
            }
        }
    }

    fn check_feeding(&self, faults: &mut Faults) {
        let Some(feeding) = &self.feeding else {
            return;
        };
        match feeding {
            Feeding::Below(below) => {
                self.check_level(below.to, faults);
                let to = below.to.unwrap_or(self.sump.capacity);
                if below.level >= to {
                    let detail = sentence!(
                        "The sump is fed below {} and only up to {}: it would be low again at once.",
                        below.level,
                        to
                    );
                    faults.add("/feeding/level", detail);
                }
            }
            Feeding::Every(every) => self.check_level(every.to, faults),
            Feeding::Always(_) => {}
        }
        match feeding.with() {
            FeedStock::Premix(premix) => {
                let pointer = "/feeding/with";
                check_volume_shares(premix.concentration, &premix.properties, pointer, faults);
                check_not_all_oil(&premix.properties, pointer, faults);
                hardness::check(&premix.properties, premix.hardness, pointer, faults);
            }
            FeedStock::WaterAndConcentrate(mixed) => {
                if let Some(water) = &mixed.water {
                    water.check("/feeding/with/water", faults);
                }
                let concentrate = mixed.concentrate.as_ref();
                check_concentrate(
                    concentrate.map(|own| &own.properties),
                    "/feeding/with/concentrate",
                    faults,
                );
            }
        }
    }

    fn check_level(&self, to: Option<Capacity>, faults: &mut Faults) {
        if let Some(to) = to.filter(|to| *to > self.sump.capacity) {
            let detail = sentence!(
                "The sump would be fed up to {}, but holds {} at most.",
                to,
                self.sump.capacity
            );
            faults.add("/feeding/to", detail);
        }
    }

    fn check_target_given(&self, faults: &mut Faults) {
        let with = self.feeding.as_ref().map(Feeding::with);
        let Some(FeedStock::WaterAndConcentrate(mixed)) = with else {
            return;
        };
        if mixed.target.is_none() && self.band.is_none() {
            let detail = sentence!(
                "The strength of the sump after it is fed is missing. Give a target, or a band with \
                 a target."
            );
            faults.add("/feeding/with/target", detail);
        }
    }

    /// The refusal of a course that stops, at its place in the request.
    pub(super) fn refused(&self, stop: CourseStop) -> Refusal {
        match stop {
            CourseStop::FedTooOften => {
                let detail = sentence!(
                    "The sump would be fed more than {} times. Feed it in larger portions, or look \
                     ahead fewer days.",
                    Measure::bare(FEEDINGS_MOST.into())
                );
                Refusal::new(Kind::OutOfRange, "/feeding", detail)
            }
            CourseStop::RemovesMore { addition, there_is } => {
                let place = self.place_of(addition);
                let removed = self.changes.iter().flatten().nth(place);
                let removed = removed.and_then(|change| change.removed.as_ref());
                let removed = removed.map_or(0.0, |removed| removed.volume.get());
                let detail = sentence!(
                    "On that day the sump holds {}, and {} are to be removed.",
                    Volume::measure_of(there_is),
                    Volume::measure_of(removed)
                );
                let pointer = format!("/changes/{place}/removed/volume");
                Refusal::new(Kind::Inconsistent, pointer, detail)
            }
        }
    }

    /// The place in the request of the change that comes at this place by day.
    fn place_of(&self, by_day: usize) -> usize {
        let days = self.changes.iter().flatten().map(|change| change.day.get());
        let mut places: Vec<(usize, f64)> = days.enumerate().collect();
        order::least_first(&mut places, |(_, day)| *day);
        places.get(by_day).map_or(by_day, |(place, _)| *place)
    }
}
