//! The plan as chains under shared limits, equations 1 to 6.

use super::answer::HeldBy;
use super::diary::{DAYS_A_WEEK, Diary};
use super::question::{Calendar, SumpInCalendar, WasteInCalendar};
use super::unit::{FLUID, HOURS, PlannedSump, WASTE};
use crate::calculations::shop::disposal::{LARGE_LEAST, VERY_SMALL_MOST};
use crate::numerics::chains::{Buffer, Chain, ChainSlot, Chains, LimitStep, SharedLimit};
use crate::numerics::digits::round_to;
use crate::quantity::Quantity;
use crate::text::DayText;

/// Hours that a recycler runs in a day by default.
const HOURS_A_DAY: f64 = 8.0;
/// A month of other waste.
pub(super) const DAYS_A_MONTH: f64 = 30.0;
/// Days within which an overdue sump is cleaned out by default.
const OVERDUE_WITHIN: f64 = 14.0;
/// Least by which a large generator's boundary lies above what is still small.
const BELOW: f64 = 1.0 - 2e-9;

/// Lengths of the windows in which the bound knows what may come into the tank.
const WINDOWS: [usize; 2] = [DAYS_A_WEEK, 4 * DAYS_A_WEEK];

/// The plan as chains, and what each of its limits is.
#[derive(Debug, Clone)]
pub(super) struct CalendarModel {
    pub(super) chains: Chains,
    /// The crew of each slot.
    pub(super) crews: Vec<usize>,
    /// What each limit is, and the first day that it holds for.
    pub(super) held: Vec<(HeldBy, usize)>,
    /// What comes to the least cost of the chains, whatever the plan.
    pub(super) always_at_least: f64,
}

/// By what one kind of limit is made larger.
#[derive(Debug, Clone, Copy)]
pub(super) struct Relaxed {
    pub(super) limit: Option<HeldBy>,
    pub(super) factor: f64,
}

impl Relaxed {
    pub(super) const NOTHING: Self = Self { limit: None, factor: 1.0 };

    fn factor(self, limit: HeldBy) -> f64 {
        if self.limit == Some(limit) { self.factor } else { 1.0 }
    }
}

/// Limits as they are put together.
struct Limits {
    limits: Vec<SharedLimit>,
    held: Vec<(HeldBy, usize)>,
}

/// Digits that the search sees: rounding of the last bits, as units bring it along, must not turn
/// one of two equal plans into the cheaper one.
const DIGITS: i32 = 12;

fn seen(number: f64) -> f64 {
    if number.is_finite() { round_to(number, DIGITS) } else { number }
}

impl Limits {
    fn add(&mut self, held: HeldBy, day: usize, mut limit: SharedLimit) -> usize {
        (limit.base, limit.most) = (seen(limit.base), seen(limit.most));
        self.limits.push(limit);
        self.held.push((held, day));
        self.limits.len() - 1
    }

    fn plain(&mut self, held: HeldBy, day: usize, most: f64) -> usize {
        self.add(held, day, SharedLimit::plain(most))
    }
}

impl Calendar {
    pub(super) fn model(
        &self,
        diary: &Diary,
        units: &[PlannedSump],
        relaxed: Relaxed,
    ) -> CalendarModel {
        let mut limits = Limits { limits: Vec::new(), held: Vec::new() };
        let buffer = self.buffer(diary, relaxed);
        let months = self.month_limits(diary, relaxed, &mut limits);
        let days = self.day_limits(diary, &mut limits);
        let windows = windows(diary, buffer.as_ref(), &mut limits);
        let (mut slots, mut crews) = (Vec::new(), Vec::new());
        let own: Vec<Vec<Vec<(usize, usize)>>> = self
            .crews
            .iter()
            .enumerate()
            .map(|(c, _)| self.crew_limits(c, diary, relaxed, &mut limits))
            .collect();
        for day in 0..diary.days {
            for (c, own) in own.iter().enumerate() {
                if own[day].is_empty() {
                    continue;
                }
                let mut held = own[day].clone();
                held.extend(months[day].map(|limit| (limit, WASTE)));
                held.extend(days[day].map(|limit| (limit, WASTE)));
                held.extend(windows[day].iter().map(|limit| (*limit, FLUID)));
                slots.push(ChainSlot { day, limits: held });
                crews.push(c);
            }
        }
        let (share, pickups_at_least) = self.pickup_share(diary, units);
        let moving: f64 = units.iter().map(super::unit::PlannedSump::kept).sum();
        let worn: f64 = units.iter().map(|unit| unit.left * unit.worn).sum();
        let mut chains = Chains {
            days: diary.days,
            slots,
            limits: limits.limits,
            buffer,
            chains: Vec::with_capacity(units.len()),
        };
        for (sump, unit) in self.sumps.iter().zip(units) {
            let chain = Self::chain(diary, sump, unit, (&chains, &crews), share);
            chains.chains.push(chain);
        }
        CalendarModel {
            chains,
            crews,
            held: limits.held,
            always_at_least: moving - worn + pickups_at_least,
        }
    }

    /// The limits of a crew on each day; none on a day on which it does not work.
    fn crew_limits(
        &self,
        c: usize,
        diary: &Diary,
        relaxed: Relaxed,
        limits: &mut Limits,
    ) -> Vec<Vec<(usize, usize)>> {
        let crew = &self.crews[c];
        let works = diary.works(crew);
        let mut week: Option<(usize, usize)> = None;
        let mut by_day = vec![Vec::new(); diary.days];
        for day in (0..diary.days).filter(|day| works[*day]) {
            let own = &mut by_day[day];
            let most = crew.hours_a_day.get() * relaxed.factor(HeldBy::HoursADay);
            own.push((limits.plain(HeldBy::HoursADay, day, most), HOURS));
            if let Some(most) = crew.fluid_a_day {
                let most = most.get() * relaxed.factor(HeldBy::FluidADay);
                own.push((limits.plain(HeldBy::FluidADay, day, most), FLUID));
            }
            if let Some(most) = crew.hours_a_week {
                let number = diary.week(day);
                let (_, limit) = match week {
                    Some(own) if own.0 == number => own,
                    _ => {
                        let most = most.get() * relaxed.factor(HeldBy::HoursAWeek);
                        (number, limits.plain(HeldBy::HoursAWeek, day, most))
                    }
                };
                week = Some((number, limit));
                own.push((limit, HOURS));
            }
        }
        by_day
    }

    fn buffer(&self, diary: &Diary, relaxed: Relaxed) -> Option<Buffer> {
        let recycler = self.recycler.as_ref()?;
        let hours = recycler.hours_a_day.map_or(HOURS_A_DAY, Quantity::get);
        let a_day = recycler.throughput.get() * hours * relaxed.factor(HeldBy::Throughput);
        let drains = (0..diary.days).map(|day| {
            if diary.runs(day, recycler.runs_on.as_deref()) { seen(a_day) } else { 0.0 }
        });
        Some(Buffer {
            kind: FLUID,
            most: seen(recycler.tank.get() * relaxed.factor(HeldBy::DirtyTank)),
            start: seen(recycler.level.map_or(0.0, Quantity::get)),
            drains: drains.collect(),
        })
    }

    /// The limit of the month that each day lies in.
    fn month_limits(
        &self,
        diary: &Diary,
        relaxed: Relaxed,
        limits: &mut Limits,
    ) -> Vec<Option<usize>> {
        let mut by_day = vec![None; diary.days];
        let Some(waste) = &self.waste else { return by_day };
        if waste.categories.is_none() && waste.most_per_month.is_none() {
            return by_day;
        }
        for (from, to) in diary.months() {
            let base = waste.other_a_day() * super::count(to - from);
            let factor = relaxed.factor(HeldBy::WasteInAMonth);
            let most = waste.most_per_month.map_or(f64::INFINITY, |most| most.get() * factor);
            let steps = waste.categories.map_or(Vec::new(), |prices| {
                let factor = relaxed.factor(HeldBy::Categories);
                vec![
                    LimitStep { above: VERY_SMALL_MOST * factor, charge: prices.small.get() },
                    LimitStep { above: LARGE_LEAST * BELOW * factor, charge: prices.large.get() },
                ]
            });
            let held = if steps.is_empty() { HeldBy::WasteInAMonth } else { HeldBy::Categories };
            let limit = limits.add(held, from, SharedLimit { base, most, steps, whole: true });
            by_day[from..to].fill(Some(limit));
        }
        by_day
    }

    /// No day brings more waste than may be on site.
    fn day_limits(&self, diary: &Diary, limits: &mut Limits) -> Vec<Option<usize>> {
        let most = self.waste.and_then(|waste| Some((waste, waste.most_on_site?)));
        let Some((waste, most)) = most else { return vec![None; diary.days] };
        let limit = |day| {
            let limit = SharedLimit { base: waste.other_a_day(), ..SharedLimit::plain(most.get()) };
            Some(limits.add(HeldBy::OnSite, day, limit))
        };
        (0..diary.days).map(limit).collect()
    }

    /// Hours that the crews have on a day.
    pub(super) fn hours_on(&self, diary: &Diary, day: usize) -> f64 {
        let on = self.crews.iter().filter(|crew| diary.works(crew)[day]);
        on.map(|crew| crew.hours_a_day.get()).sum()
    }

    /// The share of a pickup that a kilogram of waste costs, and what pickups cost at least beside
    /// it. Each takes no more than may be on site, so Σ waste ≤ (pickups + 1)·most; where other
    /// waste arises every day, none is further from the next than the longest stay.
    fn pickup_share(&self, diary: &Diary, units: &[PlannedSump]) -> (f64, f64) {
        let Some(waste) = &self.waste else { return (0.0, 0.0) };
        let price = waste.pickup_price.map_or(0.0, Quantity::get);
        let days = super::count(diary.days);
        let stay = waste.stay_days.filter(|_| waste.other_a_day() > 0.0);
        let by_stay =
            stay.map_or(0.0, |stay| price * ((days - stay.get()) / stay.get()).floor().max(0.0));
        let Some(most) = waste.most_on_site.map(Quantity::get).filter(|most| *most > 0.0) else {
            return (0.0, by_stay);
        };
        let anyway = waste.on_site.map_or(0.0, Quantity::get) + waste.other_a_day() * days;
        let expected: f64 = units.iter().map(|unit| unit.waste * days / unit.longest).sum();
        let at_least: f64 = units.iter().map(|unit| unit.waste * unit.times_at_least(diary)).sum();
        let by_mass = |mass: f64| mass / most - 1.0;
        let whole = price * (by_mass(anyway + at_least) - 1e-9).ceil().max(0.0);
        let always = whole.max(by_stay);
        if price * by_mass(anyway + expected) > always {
            (price / most, price * by_mass(anyway))
        } else {
            (0.0, always)
        }
    }

    fn chain(
        diary: &Diary,
        sump: &SumpInCalendar,
        unit: &PlannedSump,
        (chains, crews): (&Chains, &[usize]),
        pickup_share: f64,
    ) -> Chain {
        let stands = diary.stands(sump);
        let only_standing = sump.only_standing == Some(true);
        let fits = |slot: &ChainSlot| {
            let in_limits = slot.limits.iter().all(|(limit, kind)| {
                let limit = &chains.limits[*limit];
                unit.amounts()[*kind] <= (limit.most - limit.base) * (1.0 + 1e-9)
            });
            let in_tank = chains.buffer.as_ref().is_none_or(|own| unit.volume <= own.most);
            in_limits && in_tank && (!only_standing || stands[slot.day])
        };
        let costs = chains.slots.iter().zip(crews).map(|(slot, crew)| {
            if !fits(slot) {
                return f64::INFINITY;
            }
            let kept = unit.agreed.contains(&slot.day);
            let own = unit.cost(*crew, stands[slot.day]) + unit.waste * pickup_share;
            seen(own - if kept { unit.moving } else { 0.0 })
        });
        Chain {
            earliest: unit.earliest,
            first_by: unit.first_by,
            shortest: unit.shortest,
            longest: unit.longest_days(),
            amounts: unit.amounts().map(seen).to_vec(),
            costs: costs.collect(),
            left: seen(unit.left),
            age: unit.worn,
            fixed: unit.fixed.clone(),
        }
    }

    /// Days within which an overdue sump is cleaned out.
    pub(super) fn overdue_within(&self) -> f64 {
        self.overdue_within_days.map_or(OVERDUE_WITHIN, Quantity::get)
    }

    /// The agreed days of a sump that lie in the plan; of each whether it is fixed.
    pub(super) fn agreed_days(&self, diary: &Diary, sump: &str) -> Vec<(usize, bool)> {
        let own = self.agreed.iter().flatten().filter(|agreed| agreed.sump == sump);
        let day = |text: &DayText| diary.planned_day(text);
        let own = own.filter_map(|agreed| Some((day(&agreed.day)?, agreed.fixed == Some(true))));
        let mut days: Vec<(usize, bool)> = own.collect();
        // Of a day that comes twice the fixed one counts.
        days.sort_by_key(|(day, fixed)| (*day, !*fixed));
        days.dedup_by_key(|(day, _)| *day);
        days
    }
}

impl WasteInCalendar {
    /// Other waste of a day, kg.
    pub(super) fn other_a_day(&self) -> f64 {
        self.other_per_month.map_or(0.0, Quantity::get) / DAYS_A_MONTH
    }
}

/// What may come into the tank in the windows that each day lies in.
fn windows(diary: &Diary, buffer: Option<&Buffer>, limits: &mut Limits) -> Vec<Vec<usize>> {
    let mut by_day = vec![Vec::new(); diary.days];
    let Some(buffer) = buffer else { return by_day };
    for length in WINDOWS {
        for from in (0..diary.days).step_by(length) {
            let to = (from + length).min(diary.days);
            let drained: f64 = buffer.drains[from..to - 1].iter().sum();
            // What is there at the start drains first; the tank holds the rest.
            let most = buffer.most + drained;
            let limit = limits.plain(HeldBy::DirtyTank, from, most);
            by_day[from..to].iter_mut().for_each(|own: &mut Vec<usize>| own.push(limit));
        }
    }
    by_day
}
