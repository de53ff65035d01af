//! What a plan costs, whoever made it: the plan found, or today's habit.

use super::answer::{CalendarCost, CalendarMonth, CalendarPickup};
use super::diary::Diary;
use super::model::CalendarModel;
use super::question::Calendar;
use super::unit::PlannedSump;
use crate::calculations::shop::disposal::{DayOfWaste, GeneratorCategory, schedule};
use crate::quantity::{Mass, Money, Quantity};
use crate::text::Refusal;

/// What a plan leaves and costs.
#[derive(Debug, Clone, Default)]
pub(super) struct PlanAccounts {
    fluid: f64,
    work: f64,
    downtime: f64,
    waste: f64,
    life: f64,
    moving: f64,
    pickup_price: f64,
    /// The mass of each month, kg, with its category and what that costs.
    months: Vec<(f64, Option<(GeneratorCategory, f64)>)>,
    /// The day of each pickup, and what is there, kg.
    pickups: Vec<(usize, f64)>,
    /// Days on which more waste arises than may be on site.
    pub(super) days_above: Vec<usize>,
}

impl Calendar {
    /// The accounts of clean-outs: for each sump its slots.
    pub(super) fn accounts(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        model: &CalendarModel,
        slots: &[Vec<usize>],
    ) -> PlanAccounts {
        let mut accounts = PlanAccounts::default();
        let other = self.waste.map_or(0.0, |waste| waste.other_a_day());
        let mut arising = vec![other; diary.days];
        for ((sump, unit), slots) in self.sumps.iter().zip(units).zip(slots) {
            let stands = diary.stands(sump);
            let days: Vec<usize> = slots.iter().map(|k| model.chains.slots[*k].day).collect();
            for (slot, day) in slots.iter().zip(&days) {
                accounts.fluid += unit.fluid_cost;
                accounts.work += unit.work[model.crews[*slot]];
                accounts.downtime += if stands[*day] { 0.0 } else { unit.downtime };
                accounts.waste += unit.waste_cost;
                arising[*day] += unit.waste;
            }
            let since = days.last().map_or(super::count(diary.days) + unit.worn, |last| {
                super::count(diary.days - last)
            });
            accounts.life += unit.left * (since - unit.worn);
            let moved = unit.agreed.iter().filter(|day| !days.contains(day)).count();
            accounts.moving += unit.moving * super::count(moved);
        }
        self.leave(diary, &arising, &mut accounts);
        accounts
    }

    /// The months and the pickups of what arises on each day.
    fn leave(&self, diary: &Diary, arising: &[f64], accounts: &mut PlanAccounts) {
        let Some(waste) = &self.waste else { return };
        let mut by_day = Vec::with_capacity(diary.days);
        for (from, to) in diary.months() {
            let mass: f64 = arising[from..to].iter().sum();
            let category = waste.categories.map(|prices| {
                let category = GeneratorCategory::of(mass);
                let price = match category {
                    GeneratorCategory::VerySmall => 0.0,
                    GeneratorCategory::Small => prices.small.get(),
                    GeneratorCategory::Large => prices.large.get(),
                };
                (category, price)
            });
            let of_category = category.map(|(category, _)| category.limits(false));
            let own = of_category.and_then(|limits| limits.mass).unwrap_or(f64::INFINITY);
            let most = waste.most_on_site.map_or(f64::INFINITY, Quantity::get).min(own);
            let stays = [waste.stay_days.map(Quantity::get), of_category.and_then(|own| own.days)];
            let stay = stays.into_iter().flatten().fold(f64::INFINITY, f64::min);
            for arising in &arising[from..to] {
                by_day.push(DayOfWaste { arising: *arising, most, stay: whole_days(stay) });
            }
            accounts.months.push((mass, category));
        }
        let Some(first) = by_day.first().copied() else { return };
        if !self.limits_pickups() {
            return;
        }
        // What is there already arose before the first day, and stays as long as what arises on it.
        let there = waste.on_site.map_or(0.0, Quantity::get);
        let stay = first.stay.saturating_add(1);
        by_day.insert(0, DayOfWaste { arising: there, stay, ..first });
        let schedule = schedule(&by_day);
        let mut from = 0;
        for number in schedule.pickups {
            let mass = by_day[from..number].iter().map(|own| own.arising).sum();
            accounts.pickups.push((number.saturating_sub(2), mass));
            from = number;
        }
        accounts.days_above =
            schedule.above.into_iter().map(|number| number.saturating_sub(2)).collect();
        accounts.pickup_price = waste.pickup_price.map_or(0.0, Quantity::get);
    }

    /// Whether anything limits what is on site, so that there are pickups to plan.
    pub(super) fn limits_pickups(&self) -> bool {
        self.waste.is_some_and(|waste| {
            waste.most_on_site.is_some() || waste.stay_days.is_some() || waste.categories.is_some()
        })
    }
}

impl PlanAccounts {
    fn categories(&self) -> f64 {
        self.months.iter().filter_map(|(_, category)| Some(category.as_ref()?.1)).sum()
    }

    fn fetched(&self) -> f64 {
        self.pickup_price * super::count(self.pickups.len())
    }

    pub(super) fn total(&self) -> f64 {
        let own = self.fluid + self.work + self.downtime + self.waste + self.life + self.moving;
        own + self.categories() + self.fetched()
    }

    pub(super) fn cost(&self) -> Result<CalendarCost, Refusal> {
        Ok(CalendarCost {
            total: Money::of(self.total())?,
            fluid: Money::of(self.fluid)?,
            work: Money::of(self.work)?,
            downtime: Money::of(self.downtime)?,
            waste: Money::of(self.waste)?,
            pickups: Money::of(self.fetched())?,
            categories: Money::of(self.categories())?,
            life: Money::of(self.life)?,
            moving: Money::of(self.moving)?,
        })
    }

    pub(super) fn months(&self, diary: &Diary) -> Result<Vec<CalendarMonth>, Refusal> {
        let months = diary.months().into_iter().zip(&self.months);
        months
            .map(|((from, _), (mass, category))| {
                Ok(CalendarMonth {
                    from: diary.date(from),
                    mass: Mass::of(*mass)?,
                    category: category.map(|own| own.0),
                    category_cost: category.map(|own| Money::of(own.1)).transpose()?,
                })
            })
            .collect()
    }

    pub(super) fn pickups(&self, diary: &Diary) -> Result<Vec<CalendarPickup>, Refusal> {
        let pickup = |(day, mass): &(usize, f64)| {
            Ok(CalendarPickup { day: diary.date(*day), mass: Mass::of(*mass)? })
        };
        self.pickups.iter().map(pickup).collect()
    }
}

/// Whole days that something may stay.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "at most a million days, or none"
)]
fn whole_days(days: f64) -> usize {
    if days.is_finite() { days.floor() as usize } else { usize::MAX }
}
