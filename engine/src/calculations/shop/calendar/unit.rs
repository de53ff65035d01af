//! A sump in the numbers of the plan: its days, what a clean-out takes, and what it costs.
//!
//! With V its volume (L), p the price of a fill (/L), r the share that the recycler recovers, ρ the
//! density of spent fluid (kg/L), m the sludge (kg), q the price of waste (/kg), h the hours of
//! work, w the price of an hour and D the downtime:
//!
//! - waste of a clean-out: m + (1 − r)·V·ρ
//! - its cost: (1 − r)·V·p + waste·q + h·w, and D where the machine should work
//! - what a day of its fluid's life costs: the least of these without D, over the longest interval

use super::diary::Diary;
use super::question::{Calendar, SumpInCalendar};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::Quantity;
use crate::text::DayText;

/// The kinds of amounts that a clean-out takes.
pub(super) const HOURS: usize = 0;
pub(super) const FLUID: usize = 1;
pub(super) const WASTE: usize = 2;

/// Days from one clean-out to the next at most, where nothing is said (DGUV Regel 109-003, example
/// in Annex 5: at least yearly).
pub(super) const YEARLY: f64 = 365.0;

/// What it is worth to leave an agreed clean-out on its day, as a share of what it costs at its
/// dearest: as much as all of it, and a sump would be cleaned out twice only to keep a day.
const LEFT_ALONE: f64 = 0.5;

/// A sump in the numbers of the plan.
#[derive(Debug, Clone)]
pub(super) struct PlannedSump {
    pub(super) volume: f64,
    pub(super) hours: f64,
    /// Waste of a clean-out, kg.
    pub(super) waste: f64,
    pub(super) fluid_cost: f64,
    pub(super) waste_cost: f64,
    pub(super) downtime: f64,
    /// What the work costs, by crew.
    pub(super) work: Vec<f64>,
    /// Whole days.
    pub(super) shortest: usize,
    pub(super) longest: f64,
    /// Days since the last clean-out when the plan begins, no more than the longest interval.
    pub(super) worn: f64,
    /// What a day of its fluid's life costs.
    pub(super) left: f64,
    pub(super) earliest: usize,
    pub(super) first_by: usize,
    /// Whether its interval is over when the plan begins.
    pub(super) overdue: bool,
    /// Days that are agreed and may be moved, and what leaving one is worth.
    pub(super) agreed: Vec<usize>,
    pub(super) moving: f64,
    pub(super) fixed: Vec<usize>,
}

impl Calendar {
    pub(super) fn units(&self, diary: &Diary) -> Vec<PlannedSump> {
        self.sumps.iter().map(|sump| self.unit(diary, sump)).collect()
    }

    fn unit(&self, diary: &Diary, sump: &SumpInCalendar) -> PlannedSump {
        let volume = sump.volume.get();
        let recovered = self.recycler.as_ref().map_or(0.0, |own| own.recovered.fraction());
        let price =
            self.products.iter().flatten().find(|own| Some(&own.name) == sump.product.as_ref());
        let density = self.waste.and_then(|waste| waste.density);
        let density = density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get);
        let sludge = sump.sludge.map_or(0.0, Quantity::get);
        let waste = sludge + (1.0 - recovered) * volume * density;
        let waste_price = self.waste.and_then(|waste| waste.price).map_or(0.0, Quantity::get);
        let fluid_cost = price.map_or(0.0, |own| own.price.get() * volume * (1.0 - recovered));
        let hours = sump.hours.get();
        let work: Vec<f64> =
            self.crews.iter().map(|crew| crew.price.map_or(0.0, Quantity::get) * hours).collect();
        let longest = sump.longest();
        let cleaned = sump.cleaned_on.day().map_or(0, |day| diary.day(day));
        let due = cleaned.saturating_add(whole(longest));
        let asked = sump.due_by.as_ref().and_then(DayText::day).map(|day| diary.day(day));
        let due = asked.map_or(due, |asked| due.min(asked));
        let within = whole(self.overdue_within()) - 1;
        let first_by = at(if due < 0 { within } else { due });
        let shortest = sump.shortest_days.map_or(1, |days| at(whole(days.get())).max(1));
        let earliest = at(cleaned.saturating_add(whole(super::count(shortest)))).min(first_by);
        let waste_cost = waste * waste_price;
        let least = fluid_cost + waste_cost + work.iter().copied().fold(f64::INFINITY, f64::min);
        let downtime = sump.downtime_price.map_or(0.0, Quantity::get);
        let dearest = fluid_cost + waste_cost + downtime + work.iter().copied().fold(0.0, f64::max);
        let agreed = self.agreed_days(diary, &sump.name);
        let days = |fixed| agreed.iter().filter(move |own| own.1 == fixed).map(|own| own.0);
        PlannedSump {
            volume,
            hours,
            waste,
            fluid_cost,
            waste_cost,
            downtime,
            work,
            shortest,
            longest,
            worn: -super::signed(cleaned.max(-whole(longest))),
            left: least / longest,
            earliest,
            first_by,
            overdue: due < 0,
            agreed: days(false).collect(),
            moving: self.moving_price.map_or(LEFT_ALONE * dearest, Quantity::get),
            fixed: days(true).collect(),
        }
    }
}

impl PlannedSump {
    /// What a clean-out takes of each kind.
    pub(super) const fn amounts(&self) -> [f64; 3] {
        let mut amounts = [0.0; 3];
        amounts[HOURS] = self.hours;
        amounts[FLUID] = self.volume;
        amounts[WASTE] = self.waste;
        amounts
    }

    /// What a clean-out costs when it is done by this crew.
    pub(super) fn cost(&self, crew: usize, stands: bool) -> f64 {
        let downtime = if stands { 0.0 } else { self.downtime };
        self.fluid_cost + self.waste_cost + self.work[crew] + downtime
    }

    /// What moving all its agreed clean-outs would cost.
    pub(super) fn kept(&self) -> f64 {
        self.moving * super::count(self.agreed.len())
    }

    /// Clean-outs in the plan, at least: each as late as can be.
    pub(super) fn times_at_least(&self, diary: &Diary) -> f64 {
        let dues = (self.first_by..diary.days).step_by(self.longest_days());
        super::count(dues.count())
    }

    /// Whole days of the longest interval; what is left of a day does not put a clean-out off.
    pub(super) fn longest_days(&self) -> usize {
        at(whole(self.longest)).max(1)
    }
}

impl SumpInCalendar {
    pub(super) fn longest(&self) -> f64 {
        self.longest_days.map_or(YEARLY, Quantity::get)
    }

    /// Days between clean-outs by the habit of today.
    pub(super) fn habit(&self) -> usize {
        at(whole(self.habit_days.map_or_else(|| self.longest(), Quantity::get))).max(1)
    }
}

/// Whole days of a number of days.
#[expect(clippy::cast_possible_truncation, reason = "days have a bound far below that of i64")]
const fn whole(days: f64) -> i64 {
    days as i64
}

/// A day of the plan; the first for what lies before it.
fn at(day: i64) -> usize {
    usize::try_from(day).unwrap_or(0)
}
