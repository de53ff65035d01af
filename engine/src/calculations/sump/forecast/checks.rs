//! What a request for a forecast may not contradict itself in.

use super::Forecast;
use super::feeding::{FeedStock, Feeding};
use crate::dynamics::CourseStop;
use crate::fluid::batch::check_limits;
use crate::fluid::properties::check_room;
use crate::fluid::stock::check_volume_shares;
use crate::fluid::supply::{
    check_concentrate, check_limits_are_about_something, check_not_all_oil,
};
use crate::quantity::{Capacity, Concentration, Days, Measure, Quantity, Volume};
use crate::text::{Faults, Kind, Refusal, Sentence};

/// The farthest that a forecast looks, in days: ten years.
const DAYS_MOST: f64 = 3660.0;

/// The shortest time between two feedings by the calendar, in days: an hour.
const DAYS_LEAST: f64 = 1.0 / 24.0;

impl Forecast {
    /// How strong the sump is, once nothing contradicts anything.
    pub(super) fn check(&self) -> Result<Concentration, Refusal> {
        self.check_days()?;
        let mut faults = Faults::default();
        self.sump.check(&mut faults);
        if self.sump.volume.get() == 0.0 {
            let detail = "The sump is empty, and there is nothing to look ahead to. Fill it first.";
            faults.add("/sump/volume", Sentence::new(detail));
        }
        if let Some(band) = &self.band {
            band.note_faults(&mut faults);
        }
        check_limits(&self.limits, &mut faults);
        self.check_levels(&mut faults);
        self.check_changes(&mut faults);
        self.check_feeding(&mut faults);
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
        if !(self.days.get() > 0.0 && self.days.get() <= DAYS_MOST) {
            let detail = "A forecast looks ahead by more than nothing and by up to {}, and {} is \
                          not between the two.";
            let detail = Sentence::new(detail).with(Measure::of(Days::ROW, DAYS_MOST));
            faults.add("/days", detail.with(self.days.measure()));
        }
        if let Some(Feeding::Every(every)) = &self.feeding
            && every.days.get() < DAYS_LEAST
        {
            let detail = "Feedings by the calendar lie an hour apart at least, which is {}, and \
                          {} is less. What is fed more often is fed always.";
            let least = Measure::of(Days::ROW, DAYS_LEAST);
            let detail = Sentence::new(detail).with(least).with(every.days.measure());
            faults.add("/feeding/days", detail);
        }
        check_room("/days", self.days, self.known().len(), &mut faults);
        faults.or_refuse(Kind::OutOfRange)
    }

    fn check_depletion(&self, c: Concentration, faults: &mut Faults) {
        let (k, d) = (self.losses.depletion(), self.losses.carry_off.get());
        if d > 0.0 && k * c.get() > 100.0 {
            let detail = "At {} and this depletion ratio, what is carried off would hold more \
                          concentrate than fluid. The ratio can be {} at most; it is 1 where the \
                          fluid is carried off as it is.";
            let detail = Sentence::new(detail).with(c.measure());
            faults.add("/losses/depletion_ratio", detail.with(Measure::bare(100.0 / c.get())));
        }
    }

    fn check_levels(&self, faults: &mut Faults) {
        let (least, most) = self.levels();
        if let Some(least) = least
            && least > most
        {
            let volume = |litres| Measure::of(Volume::ROW, litres);
            let detail = "The least level, {}, lies above the highest, {}.";
            let detail = Sentence::new(detail).with(volume(least)).with(volume(most));
            faults.add("/levels/min", detail);
        }
    }

    fn check_changes(&self, faults: &mut Faults) {
        for (i, change) in self.changes.iter().flatten().enumerate() {
            if change.day > self.days {
                let detail = "{} lies after the last day of the forecast, {}.";
                let detail = Sentence::new(detail).with(change.day.measure());
                faults.add(format!("/changes/{i}/day"), detail.with(self.days.measure()));
            }
            if change.removed.is_none() && change.added.is_none() {
                let detail =
                    "Nothing is removed and nothing added here. Say what, or leave it out.";
                faults.add(format!("/changes/{i}"), Sentence::new(detail));
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
                    let detail = "The sump is fed below {} and only up to {}: it would be low \
                                  again at once.";
                    let detail = Sentence::new(detail).with(below.level.measure());
                    faults.add("/feeding/level", detail.with(to.measure()));
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
            }
            FeedStock::WaterAndConcentrate(mixed) => {
                if let Some(water) = &mixed.water {
                    check_not_all_oil(&water.properties, "/feeding/with/water", faults);
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
            let detail = "The sump would be fed up to {} and holds {} at most.";
            let detail = Sentence::new(detail).with(to.measure());
            faults.add("/feeding/to", detail.with(self.sump.capacity.measure()));
        }
    }

    fn check_target_given(&self, faults: &mut Faults) {
        let with = self.feeding.as_ref().map(Feeding::with);
        let Some(FeedStock::WaterAndConcentrate(mixed)) = with else {
            return;
        };
        if mixed.target.is_none() && self.band.is_none() {
            let detail = "It is not said how strong the sump is to be after it is fed. Give a \
                          target, or a band with one.";
            faults.add("/feeding/with/target", Sentence::new(detail));
        }
    }

    /// Why the course cannot be told, at its place in the request.
    pub(super) fn refused(&self, stop: CourseStop) -> Refusal {
        match stop {
            CourseStop::FedTooOften => {
                let detail = "The sump would be fed more than 20,000 times. Feed it in larger \
                              portions, or look ahead fewer days.";
                Refusal::new(Kind::OutOfRange, "/feeding", Sentence::new(detail))
            }
            CourseStop::RemovesMore { addition, there_is } => {
                let place = self.place_of(addition);
                let removed = self.changes.iter().flatten().nth(place);
                let removed = removed.and_then(|change| change.removed.as_ref());
                let removed = removed.map_or(0.0, |removed| removed.volume.get());
                let detail = "On that day there are {} in the sump, and {} are to be removed.";
                let volume = |litres| Measure::of(Volume::ROW, litres);
                let detail = Sentence::new(detail).with(volume(there_is)).with(volume(removed));
                let pointer = format!("/changes/{place}/removed/volume");
                Refusal::new(Kind::Inconsistent, pointer, detail)
            }
        }
    }

    /// Where in the request the change stands that comes at this place by day.
    fn place_of(&self, by_day: usize) -> usize {
        let days = self.changes.iter().flatten().map(|change| change.day.get());
        let mut places: Vec<(usize, f64)> = days.enumerate().collect();
        places.sort_by(|a, b| a.1.total_cmp(&b.1));
        places.get(by_day).map_or(by_day, |(place, _)| *place)
    }
}
