//! Contradictions in a group of sumps, and in how its sumps are changed.

use super::super::machine::{ChangeRule, Machine};
use super::super::{ByCalendar, ByForecast, ChangeHabit, WasteGroup};
use crate::fluid::properties::{PropertyName, TRAMP_OIL};
use crate::fluid::stock;
use crate::quantity::{Concentration, Count, Quantity, Volume};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal, Sentence};

/// Checks what can only be told of the sumps in plain numbers.
pub(in super::super) fn check_machines(machines: &[Machine]) -> Result<(), Refusal> {
    let mut faults = Faults::default();
    for (i, machine) in machines.iter().enumerate() {
        let sets = (1.0 / machine.media_every).ceil();
        if sets * machine.fluid_in_media > machine.v {
            let detail = sentence!(
                "The filter media of one sump take {} of fluid with them in a month, more than \
                 the sump holds. Check the fluid they hold and how long they last.",
                Volume::measure_of(sets * machine.fluid_in_media)
            );
            faults.add(format!("/groups/{i}/filter/fluid_held"), detail);
        }
        if !matches!(machine.rule, ChangeRule::Never) && machine.recovered_most() < 0.0 {
            let detail = sentence!(
                "Rinsing leaves so much water in the residue that even neat concentrate does not \
                 bring the refill to its concentration. Rinse with less, or leave less residue."
            );
            faults.add(format!("/groups/{i}/rinse"), detail);
        }
    }
    faults.or_refuse(Kind::Inconsistent)
}

/// Notes it where something that has to be more than 0 is 0.
fn above_zero(number: Option<f64>, pointer: String, detail: &Sentence, faults: &mut Faults) {
    if number == Some(0.0) {
        faults.add(pointer, detail.clone());
    }
}

impl WasteGroup {
    pub(super) fn check_ranges(&self, at: &str, faults: &mut Faults) {
        let count = self.count.map(Quantity::get);
        let detail = sentence!("A group has at least one sump. Leave out a group that has none.");
        above_zero(count, format!("{at}/count"), &detail, faults);
        let months = |count: Option<Count>| count.map(Quantity::get);
        let never = sentence!("The interval must be at least one month.");
        match &self.change {
            Some(ChangeHabit::Calendar(habit)) => {
                let every = months(Some(habit.every_months));
                above_zero(every, format!("{at}/change/every_months"), &never, faults);
                let detail = sentence!("Months are counted from 1.");
                let first = months(habit.first_month);
                above_zero(first, format!("{at}/change/first_month"), &detail, faults);
                let detail = sentence!("Sumps are shared out over at least one month.");
                let over = months(habit.over_months);
                above_zero(over, format!("{at}/change/over_months"), &detail, faults);
            }
            Some(ChangeHabit::RunningHours(habit)) => {
                let detail = sentence!(
                    "The hours from one change to the next must be more than 0. Give the hours \
                     that the fluid lasts."
                );
                let hours = Some(habit.hours.get());
                above_zero(hours, format!("{at}/change/hours"), &detail, faults);
            }
            Some(ChangeHabit::Forecast(_)) | None => {}
        }
        let every = months(self.fines.and_then(|fines| fines.every_months));
        above_zero(every, format!("{at}/fines/every_months"), &never, faults);
        let dry = self.fines.map(|fines| fines.dry_share.get());
        let detail = sentence!("The dry share of the sludge must be more than 0 %.");
        above_zero(dry, format!("{at}/fines/dry_share"), &detail, faults);
        let oil = self.oil_leak.and_then(|leak| leak.oil_in_skimmings).map(Quantity::get);
        let detail = sentence!("The oil in the skimmings must be more than 0 %.");
        above_zero(oil, format!("{at}/oil_leak/oil_in_skimmings"), &detail, faults);
        let lasts = self.filter.map(|filter| filter.every_months.get());
        let detail = sentence!(
            "The life of filter media must be more than 0. Give the months that a set lasts."
        );
        above_zero(lasts, format!("{at}/filter/every_months"), &detail, faults);
    }

    pub(super) fn check(&self, at: &str, faults: &mut Faults) {
        let residue = self.residue.map_or(0.0, Quantity::get);
        if residue >= self.volume.get() {
            let detail = sentence!(
                "Emptying leaves {} of the {} in the sump, so that nothing is changed. Check both.",
                Volume::measure_of(residue),
                self.volume
            );
            faults.add(format!("{at}/residue"), detail);
        }
        self.losses.note_faults(&|| format!("{at}/losses"), faults);
        let carried = self.concentration.get() * self.losses.depletion();
        if carried > 100.0 {
            let detail = sentence!(
                "What is carried off would be {} concentrate, more than all of it. Check the \
                 concentration and the depletion ratio.",
                Concentration::measure_of(carried)
            );
            faults.add(format!("{at}/losses/depletion_ratio"), detail);
        }
        stock::check_volume_shares(self.concentration, &self.properties, at, faults);
        let oil = self.properties.tramp_oil.map_or(0.0, Concentration::fraction);
        if oil >= 1.0 {
            let detail = sentence!("A sump that holds only tramp oil has no fluid to project.");
            faults.add(format!("{at}/properties/{TRAMP_OIL}"), detail);
        }
        if let Some(ChangeHabit::Calendar(habit)) = &self.change {
            habit.check(&format!("{at}/change"), faults);
        }
    }

    /// In how many parts its sumps are changed.
    pub(super) fn parts(&self) -> usize {
        match &self.change {
            Some(ChangeHabit::Calendar(habit)) => {
                let count = self.count.map_or(1, Count::whole);
                habit.over_months.map_or(1, Count::whole).min(count)
            }
            _ => 1,
        }
    }
}

impl ByCalendar {
    fn check(&self, at: &str, faults: &mut Faults) {
        let Some(over) = self.over_months else { return };
        if over > self.every_months {
            let detail = sentence!(
                "The sumps are shared out over {} months, but the next round begins after {}. \
                 Share them out over no more months than lie between two changes.",
                over,
                self.every_months
            );
            faults.add(format!("{at}/over_months"), detail);
        }
    }
}

impl ByForecast {
    /// Notes where a limit says nothing about when to change.
    pub(super) fn check(&self, names: &[PropertyName], at: &str, faults: &mut Faults) {
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
                let detail = sentence!(
                    "A change does not raise what is too low. Give an upper limit instead, as max."
                );
                faults.add(format!("{at}/{name}/min"), detail);
            }
            if name != TRAMP_OIL && !names.iter().any(|known| known == name) {
                let detail = sentence!(
                    "The content of \"{}\" in the water and in the sumps is missing. Give it \
                     among the properties of the water or of a group.",
                    name
                );
                faults.add(format!("{at}/{name}"), detail);
            }
        }
        if !limited {
            let detail = sentence!(
                "Without an upper limit the forecast never asks for a change. Give the max of at \
                 least one property."
            );
            faults.add(at, detail);
        }
    }
}
