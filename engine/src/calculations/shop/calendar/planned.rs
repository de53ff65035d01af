//! The answer, made of a plan.

use super::accounts::PlanAccounts;
use super::answer::{
    CalendarAnswer, CalendarWeek, HabitCost, MovedCleanOut, PlannedCleanOut, SumpAhead,
};
use super::diary::Diary;
use super::model::CalendarModel;
use super::question::Calendar;
use super::unit::PlannedSump;
use crate::numerics::chains::ChainPlan;
use crate::quantity::{Count, Days, Hours, Money, Quantity, Share, Volume};
use crate::text::Refusal;

/// Where the gap is less than this share of the cost, there is none.
const NO_GAP: f64 = 1e-6;

impl Calendar {
    pub(super) fn planned(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        model: &CalendarModel,
        plan: &ChainPlan,
        accounts: &PlanAccounts,
    ) -> Result<CalendarAnswer, Refusal> {
        let total = accounts.total();
        let at_least = (plan.at_least + model.always_at_least).min(total);
        let gap = if total > 0.0 { ((total - at_least) / total).clamp(0.0, 1.0) } else { 0.0 };
        let habit = self.by_habit(diary, model);
        let habit_cost = self.accounts(diary, units, model, &habit).total();
        let habit = HabitCost {
            clean_outs: Count::from_usize(habit.iter().map(Vec::len).sum())?,
            total: Money::of(habit_cost)?,
            saved: Money::of(habit_cost - total)?,
        };
        let moved = self.agreed.is_some().then(|| self.moved(diary, units, model, plan));
        Ok(CalendarAnswer {
            clean_outs: self.clean_outs(diary, units, model, plan)?,
            cost: accounts.cost()?,
            habit,
            at_least: Money::of(at_least)?,
            gap: Share::of_fraction(gap)?,
            proven: total - at_least <= NO_GAP * total.abs(),
            weeks: self.weeks(diary, units, model, plan)?,
            months: self.waste.is_some().then(|| accounts.months(diary)).transpose()?,
            pickups: self.limits_pickups().then(|| accounts.pickups(diary)).transpose()?,
            limits: self.limits(diary, units, model, plan)?,
            moved: moved.transpose()?,
            sumps: self.ahead(diary, units, model, plan)?,
            currency: self.currency.clone(),
        })
    }

    fn clean_outs(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        model: &CalendarModel,
        plan: &ChainPlan,
    ) -> Result<Vec<PlannedCleanOut>, Refusal> {
        let slips = model.chains.slips(&plan.slots);
        let mut planned = Vec::new();
        for (i, (sump, unit)) in self.sumps.iter().zip(units).enumerate() {
            let stands = diary.stands(sump);
            let mut due = unit.first_by;
            for (slot, last) in plan.slots[i].iter().zip(&slips[i]) {
                let day = model.chains.slots[*slot].day;
                let last = model.chains.slots[*last].day;
                let crew = model.crews[*slot];
                let agreed = (!unit.agreed.is_empty() || !unit.fixed.is_empty())
                    .then(|| unit.agreed.contains(&day) || unit.fixed.contains(&day));
                planned.push((
                    (day, crew, i),
                    PlannedCleanOut {
                        sump: sump.name.clone(),
                        day: diary.date(day),
                        weekday: diary.weekday(day),
                        week: Count::from_usize(diary.week(day) + 1)?,
                        crew: self.crews[crew].name.clone(),
                        hours: sump.hours,
                        volume: Volume::of(unit.volume)?,
                        product: sump.product.clone(),
                        stands: stands[day],
                        due_by: diary.date(due),
                        may_slip_to: diary.date(last),
                        slip_days: Count::from_usize(last - day)?,
                        cost: Money::of(unit.cost(crew, stands[day]))?,
                        agreed,
                    },
                ));
                due = day + unit.longest_days();
            }
        }
        planned.sort_by_key(|(order, _)| *order);
        Ok(planned.into_iter().map(|(_, own)| own).collect())
    }

    fn weeks(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        model: &CalendarModel,
        plan: &ChainPlan,
    ) -> Result<Vec<CalendarWeek>, Refusal> {
        let weeks = diary.week(diary.days - 1) + 1;
        let mut load = vec![(0_usize, 0.0, 0.0); weeks];
        for (unit, slots) in units.iter().zip(&plan.slots) {
            for slot in slots {
                let own = &mut load[diary.week(model.chains.slots[*slot].day)];
                own.0 += 1;
                own.1 += unit.hours;
                own.2 += unit.volume;
            }
        }
        let levels = model.chains.levels(&plan.slots);
        let there = self.hours_by_week(diary, weeks);
        let in_week = |week: usize| (0..diary.days).filter(move |day| diary.week(*day) == week);
        let each = load.into_iter().enumerate().map(|(week, (clean_outs, hours, drained))| {
            let first = in_week(week).next().unwrap_or(0);
            let of_tank = |of: fn(f64, (f64, f64)) -> f64| {
                let days = in_week(week).filter_map(|day| levels.get(day).copied());
                (!levels.is_empty()).then(|| Volume::of(days.fold(0.0, of))).transpose()
            };
            Ok(CalendarWeek {
                week: Count::from_usize(week + 1)?,
                from: diary.date(first),
                clean_outs: Count::from_usize(clean_outs)?,
                hours: Hours::of(hours)?,
                hours_there: Hours::of(there[week])?,
                drained: Volume::of(drained)?,
                tank: of_tank(|most, (level, _)| most.max(level))?,
                recycled: of_tank(|sum, (_, drained)| sum + drained)?,
            })
        });
        each.collect()
    }

    /// Hours that the crews have in each week.
    fn hours_by_week(&self, diary: &Diary, weeks: usize) -> Vec<f64> {
        let mut there = vec![0.0; weeks];
        for crew in &self.crews {
            let mut own = vec![0.0; weeks];
            for (day, works) in diary.works(crew).into_iter().enumerate() {
                own[diary.week(day)] += if works { crew.hours_a_day.get() } else { 0.0 };
            }
            let most = crew.hours_a_week.map_or(f64::INFINITY, Quantity::get);
            there.iter_mut().zip(own).for_each(|(all, own)| *all += own.min(most));
        }
        there
    }

    fn moved(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        model: &CalendarModel,
        plan: &ChainPlan,
    ) -> Result<Vec<MovedCleanOut>, Refusal> {
        let mut moved = Vec::new();
        for ((sump, unit), slots) in self.sumps.iter().zip(units).zip(&plan.slots) {
            let days: Vec<usize> = slots.iter().map(|slot| model.chains.slots[*slot].day).collect();
            for agreed in unit.agreed.iter().filter(|day| !days.contains(day)) {
                let free = days.iter().filter(|day| !unit.agreed.contains(day));
                let now = free.min_by_key(|day| day.abs_diff(*agreed)).copied();
                let by = now.map(|day| Days::of(super::count(day.abs_diff(*agreed))));
                moved.push(MovedCleanOut {
                    sump: sump.name.clone(),
                    agreed: diary.date(*agreed),
                    now: now.map(|day| diary.date(day)),
                    days: by.transpose()?,
                });
            }
        }
        moved.sort_by_key(|own| own.agreed);
        Ok(moved)
    }

    fn ahead(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        model: &CalendarModel,
        plan: &ChainPlan,
    ) -> Result<Vec<SumpAhead>, Refusal> {
        let each = self.sumps.iter().zip(units).zip(&plan.slots).map(|((sump, unit), slots)| {
            let last = slots.last().map(|slot| model.chains.slots[*slot].day);
            Ok(SumpAhead {
                sump: sump.name.clone(),
                clean_outs: Count::from_usize(slots.len())?,
                next_by: diary.date(last.map_or(unit.first_by, |day| day + unit.longest_days())),
            })
        });
        each.collect()
    }
}
