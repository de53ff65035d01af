//! The checks of a plan of supplies: days that cannot be, and what nobody could use.

use super::question::{Supplies, SupplyItem};
use super::shelf::MOST_DAYS;
use crate::quantity::{Count, Days, Quantity, Share};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{CalendarDate, DayText, Faults, Kind, Refusal, Sentence};

/// The furthest that a plan goes, in days.
const AHEAD_MOST: f64 = 730.0;
/// The longest that anything takes to come, or an order lasts, in days.
const LEAD_MOST: f64 = 730.0;
/// The most containers that an order lists.
const CONTAINERS_MOST: f64 = 100_000.0;
/// Service levels that a plan holds, %.
const LEVELS: (f64, f64) = (50.0, 99.999);

impl Supplies {
    /// The day that the plan begins on.
    pub(super) fn check(&self) -> Result<CalendarDate, Refusal> {
        let mut faults = Faults::default();
        self.today.check("/today", &mut faults);
        for (pointer, day) in self.days() {
            day.check(pointer, &mut faults);
        }
        faults.or_refuse(Kind::OutOfRange)?;
        let Some(today) = self.today.day() else {
            return Err(Refusal::new(Kind::OutOfRange, "/today", sentence!("Today is no day.")));
        };
        let mut faults = Faults::default();
        let names = self.supplies.iter().map(|item| item.name.as_str());
        check_unique(names, "supplies", "/supplies", &mut faults);
        for (pointer, day) in self.days() {
            if let Some(day) = day.day().filter(|day| *day < today) {
                faults.add(pointer, past(day, today));
            }
        }
        self.check_numbers(&mut faults);
        for (i, item) in self.supplies.iter().enumerate() {
            check_item(item, &format!("/supplies/{i}"), &mut faults);
        }
        faults.or_refuse(Kind::Inconsistent)?;
        let mut faults = Faults::default();
        for (i, item) in self.supplies.iter().enumerate() {
            if item.use_per_day.is_none() && item.used_per_week.is_none() {
                let detail = sentence!(
                    "What is used of {} is missing. Give what is used per day on average \
                     (use_per_day), or what past weeks used (used_per_week).",
                    &item.name
                );
                faults.add(format!("/supplies/{i}/use_per_day"), detail);
            }
        }
        faults.or_refuse(Kind::NotIdentifiable)?;
        Ok(today)
    }

    /// All days of the plan but today, each with its place.
    fn days(&self) -> Vec<(String, &DayText)> {
        let mut days = Vec::new();
        for (i, item) in self.supplies.iter().enumerate() {
            days.extend(item.use_by.iter().map(|day| (format!("/supplies/{i}/use_by"), day)));
            for (k, planned) in item.planned.iter().flatten().enumerate() {
                days.push((format!("/supplies/{i}/planned/{k}/on"), &planned.on));
            }
            for (k, own) in item.on_order.iter().flatten().enumerate() {
                days.push((format!("/supplies/{i}/on_order/{k}/arrives_on"), &own.arrives_on));
            }
        }
        days
    }

    fn check_numbers(&self, faults: &mut Faults) {
        if let Some(level) = self.service_level
            && !(LEVELS.0..=LEVELS.1).contains(&level.get())
        {
            let detail = sentence!(
                "A service level lies from {} to less than {}, and {} does not: nothing is ever \
                 wholly sure.",
                Share::measure_of(LEVELS.0),
                Share::measure_of(100.0),
                level
            );
            faults.add("/service_level", detail);
        }
        let bounds = [
            ("/days_ahead", self.days_ahead, AHEAD_MOST),
            ("/look_days", self.look_days, LEAD_MOST),
        ];
        for (pointer, days, most) in bounds {
            too_long(days, most, pointer.to_owned(), faults);
        }
    }
}

fn check_item(item: &SupplyItem, pointer: &str, faults: &mut Faults) {
    let bounds = [
        ("lead_days", Some(item.lead_days), LEAD_MOST),
        ("lead_spread_days", item.lead_spread_days, LEAD_MOST),
        ("order_lasts_days", item.order_lasts_days, LEAD_MOST),
    ];
    for (member, days, most) in bounds {
        too_long(days, most, format!("{pointer}/{member}"), faults);
    }
    if item.shelf_life_days.is_some_and(|days| days.get() < 1.0) {
        let detail = sentence!(
            "What keeps for less than a day cannot be kept. Give the days that it keeps."
        );
        faults.add(format!("{pointer}/shelf_life_days"), detail);
    }
    if item.use_per_day.is_some() && item.used_per_week.is_some() {
        let detail = sentence!(
            "What is used is given twice, per day and by past weeks. Give one of the two."
        );
        faults.add(format!("{pointer}/used_per_week"), detail);
    }
    let least = item.containers_at_least.map_or(1.0, Quantity::get);
    if !(1.0..=CONTAINERS_MOST).contains(&least) {
        let detail = sentence!(
            "An order has from {} to {} containers.",
            Count::measure_of(1.0),
            Count::measure_of(CONTAINERS_MOST)
        );
        faults.add(format!("{pointer}/containers_at_least"), detail);
    }
    let (mean, _) = item.usage();
    let planned: f64 = item.planned.iter().flatten().map(|own| own.volume.get()).sum();
    let lasts = 2.0 * LEAD_MOST + item.lead_days.get();
    if (mean * lasts + planned) / item.container.volume.get() > CONTAINERS_MOST {
        let detail = sentence!(
            "An order would have more than {} containers. Check the units of the container and of \
             what is used.",
            Count::measure_of(CONTAINERS_MOST)
        );
        faults.add(format!("{pointer}/container/volume"), detail);
    }
}

fn too_long(days: Option<Days>, most: f64, pointer: String, faults: &mut Faults) {
    debug_assert!(most <= Count::from_usize(MOST_DAYS).map_or(0.0, Quantity::get));
    if let Some(days) = days.filter(|days| days.get() > most) {
        let detail = sentence!(
            "{} are more than the {} that are planned for.",
            days,
            Days::measure_of(most)
        );
        faults.add(pointer, detail);
    }
}

fn past(day: CalendarDate, today: CalendarDate) -> Sentence {
    sentence!(
        "{} lies before today, {}. Take out what has come or is done, or correct the day.",
        day,
        today
    )
}
