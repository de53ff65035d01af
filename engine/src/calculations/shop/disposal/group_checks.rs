//! What a group of sumps may not contradict itself in, and how its sumps are changed.

use super::machine::{Habit, Machine, whole};
use super::share;
use super::sumps::{ByCalendar, ByForecast, ChangeHabit, WasteGroup};
use super::track::count;
use crate::fluid::properties::{Name, TRAMP_OIL};
use crate::fluid::stock;
use crate::quantity::{Concentration, Count, Measure, Quantity, Volume};
use crate::text::{Faults, Kind, Refusal, Sentence};

/// What can only be told of the sumps in plain numbers.
pub(super) fn check_machines(machines: &[Machine]) -> Result<(), Refusal> {
    let mut faults = Faults::default();
    for (i, machine) in machines.iter().enumerate() {
        let sets = (1.0 / machine.media_every).ceil();
        if sets * machine.fluid_in_media > machine.v {
            let detail = "The filter media of one sump take {} of fluid with them in a month, \
                          more than the sump holds. Check the fluid they hold and how long \
                          they last.";
            let litres = Measure::of(Volume::ROW, sets * machine.fluid_in_media);
            let detail = Sentence::new(detail).with(litres);
            faults.add(format!("/groups/{i}/filter/fluid_held"), detail);
        }
        if !matches!(machine.habit, Habit::Never) && machine.recovered_most() < 0.0 {
            let detail = "Rinsing leaves so much water in the residue that even neat \
                          concentrate does not bring the refill to its strength. Rinse with \
                          less, or leave less residue.";
            faults.add(format!("/groups/{i}/rinse"), Sentence::new(detail));
        }
    }
    faults.or_refuse(Kind::Inconsistent)
}

/// Notes it where something that has to be more than nothing is not.
fn above_zero(number: Option<f64>, pointer: String, detail: &'static str, faults: &mut Faults) {
    if number == Some(0.0) {
        faults.add(pointer, Sentence::new(detail));
    }
}

impl WasteGroup {
    pub(super) fn check_ranges(&self, at: &str, faults: &mut Faults) {
        let count = self.count.map(Quantity::get);
        let detail = "A group has at least one sump. Leave out a group that has none.";
        above_zero(count, format!("{at}/count"), detail, faults);
        let months = |count: Option<Count>| count.map(Quantity::get);
        let never = "Something that comes round has at least one month in between.";
        match &self.change {
            Some(ChangeHabit::Calendar(habit)) => {
                let every = months(Some(habit.every_months));
                above_zero(every, format!("{at}/change/every_months"), never, faults);
                let detail = "Months are counted from 1.";
                let first = months(habit.first_month);
                above_zero(first, format!("{at}/change/first_month"), detail, faults);
                let detail = "Sumps are shared out over at least one month.";
                let over = months(habit.over_months);
                above_zero(over, format!("{at}/change/over_months"), detail, faults);
            }
            Some(ChangeHabit::RunningHours(habit)) => {
                let detail = "A change after no hours at all would never end. Give the hours from \
                              one change to the next.";
                let hours = Some(habit.hours.get());
                above_zero(hours, format!("{at}/change/hours"), detail, faults);
            }
            Some(ChangeHabit::Forecast(_)) | None => {}
        }
        let every = months(self.fines.and_then(|fines| fines.every_months));
        above_zero(every, format!("{at}/fines/every_months"), never, faults);
        let dry = self.fines.map(|fines| fines.dry_share.get());
        let detail = "Sludge without dry fines would have no end. Give the dry share of its mass.";
        above_zero(dry, format!("{at}/fines/dry_share"), detail, faults);
        let oil = self.oil_leak.and_then(|leak| leak.oil_in_skimmings).map(Quantity::get);
        let detail = "Skimmings without oil would have no end. Give the share of oil in them.";
        above_zero(oil, format!("{at}/oil_leak/oil_in_skimmings"), detail, faults);
        let lasts = self.filter.map(|filter| filter.every_months.get());
        let detail = "Filter media that last no time would have no end. Give how many months a \
                      set lasts.";
        above_zero(lasts, format!("{at}/filter/every_months"), detail, faults);
    }

    pub(super) fn check(&self, at: &str, faults: &mut Faults) {
        let residue = self.residue.map_or(0.0, Quantity::get);
        if residue >= self.volume.get() {
            let detail = "Emptying leaves {} of the {} in the sump, so that nothing is changed. \
                          Check both.";
            let detail = Sentence::new(detail).with(Measure::of(Volume::ROW, residue));
            faults.add(format!("{at}/residue"), detail.with(self.volume.measure()));
        }
        let carried = self.concentration.get() * self.losses.depletion();
        if carried > 100.0 {
            let detail = "What is carried off would be {} concentrate, more than all of it. Check \
                          the concentration and the depletion ratio.";
            let detail = Sentence::new(detail).with(Measure::of(Concentration::ROW, carried));
            faults.add(format!("{at}/losses/depletion_ratio"), detail);
        }
        stock::check_volume_shares(self.concentration, &self.properties, at, faults);
        let oil = self.properties.tramp_oil.map_or(0.0, share);
        if oil >= 1.0 {
            let detail = "A sump of nothing but tramp oil has no fluid to look ahead for.";
            faults.add(format!("{at}/properties/{TRAMP_OIL}"), Sentence::new(detail));
        }
        if let Some(ChangeHabit::Calendar(habit)) = &self.change {
            habit.check(&format!("{at}/change"), faults);
        }
    }

    /// How many parts of it are walked through the months.
    pub(super) fn walks(&self) -> f64 {
        match &self.change {
            Some(ChangeHabit::Calendar(habit)) => {
                habit.over_months.map_or(1.0, Quantity::get).min(self.count())
            }
            _ => 1.0,
        }
    }
}

impl ByCalendar {
    pub(super) fn check(&self, at: &str, faults: &mut Faults) {
        let over = self.over_months.map_or(1, whole);
        if over > whole(self.every_months) {
            let detail = "The sumps are shared out over {} months, but the next round begins after \
                          {}. Share them out over no more months than lie between two changes.";
            let detail = Sentence::new(detail).with(Measure::bare(count(over)));
            faults.add(format!("{at}/over_months"), detail.with(self.every_months.measure()));
        }
    }
}

impl ByForecast {
    /// Notes where a limit says nothing about when to change.
    pub(super) fn check(&self, names: &[Name], at: &str, faults: &mut Faults) {
        let oil = self
            .limits
            .tramp_oil
            .map(|limit| (TRAMP_OIL, limit.min.is_some(), limit.max.is_some()));
        let matter = self.limits.matter.iter();
        let matter =
            matter.map(|(name, limit)| (name.as_str(), limit.min.is_some(), limit.max.is_some()));
        let mut limited = false;
        for (name, min, max) in oil.into_iter().chain(matter) {
            limited |= max;
            if min {
                let detail = "A change does not raise what is too low. Give the most that is \
                              tolerated, as max.";
                faults.add(format!("{at}/{name}/min"), Sentence::new(detail));
            }
            if name != TRAMP_OIL && !names.iter().any(|known| known == name) {
                let detail = "Nobody says how much of this the water brings or the sumps hold. \
                              Give it among the properties of the water or of a group.";
                faults.add(format!("{at}/{name}"), Sentence::new(detail));
            }
        }
        if !limited {
            let detail = "Without a limit the forecast never says so. Give the most that is \
                          tolerated of at least one property.";
            faults.add(at, Sentence::new(detail));
        }
    }
}
