//! What a question about a recycler may not contradict itself in.

mod missing;
mod plant;

use super::Recycler;
use super::correction::RECOVERED;
use super::defaults::MOST_DAYS;
use crate::fluid::batch;
use crate::fluid::properties::Properties;
use crate::fluid::stock::{self, property_names};
use crate::handbook::conversions::HOURS_PER_DAY;
use crate::quantity::{Count, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};
use std::collections::BTreeSet;

impl Recycler {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.check_days(&mut faults);
        faults.or_refuse(Kind::OutOfRange)?;

        let mut faults = Faults::default();
        self.check_feed(&mut faults);
        self.check_stages(&mut faults);
        self.check_plant(&mut faults);
        self.check_sources(&mut faults);
        self.check_correction(&mut faults);
        faults.or_refuse(Kind::Inconsistent)?;

        let mut faults = Faults::default();
        self.check_what_is_missing(&mut faults);
        faults.or_refuse(Kind::NotIdentifiable)
    }

    /// When each delivery and each demand ends, with the pointer to it.
    pub(super) fn ends(&self) -> impl Iterator<Item = (String, f64)> {
        let over = |hours: Option<f64>| hours.unwrap_or(0.0) / HOURS_PER_DAY;
        let arrivals = self.arrivals().iter().enumerate().map(move |(i, arrival)| {
            let end = arrival.day.get() + over(arrival.hours.map(Quantity::get));
            (format!("/feed/arrivals/{i}/day"), end)
        });
        let demand = self.demand.iter().flatten().enumerate().map(move |(i, demand)| {
            let end = demand.day.get() + over(demand.hours.map(Quantity::get));
            (format!("/demand/{i}/day"), end)
        });
        arrivals.chain(demand)
    }

    fn check_days(&self, faults: &mut Faults) {
        if self.hours_per_day.get() <= 0.0 {
            let detail = sentence!(
                "A recycler that runs 0 hours a day recycles no fluid. Give its hours a day."
            );
            faults.add("/hours_per_day", detail);
        }
        if let Some(days) = self.plan_days
            && !(1.0..=MOST_DAYS).contains(&days.get())
        {
            let detail = sentence!(
                "A plan has 1 to {} days, and {} were asked for.",
                Count::measure_of(MOST_DAYS),
                days
            );
            faults.add("/plan_days", detail);
        }
        if self.plan_days.is_none() {
            for (pointer, _) in self.ends().filter(|(_, end)| *end >= MOST_DAYS) {
                let detail = sentence!(
                    "A plan has {} days at most, and this ends later.",
                    Count::measure_of(MOST_DAYS)
                );
                faults.add(pointer, detail);
            }
        }
    }

    fn check_feed(&self, faults: &mut Faults) {
        let feed = &self.feed;
        if feed.volume.is_some() && feed.arrivals.is_some() {
            let detail = sentence!(
                "The feed is given twice, as one batch and as deliveries. Give one of them; a \
                 batch at the start can be a delivery on day 0."
            );
            faults.add("/feed/arrivals", detail);
        }
        if feed.concentration.is_some() && feed.reading.is_some() {
            let detail = sentence!(
                "The strength of the feed is given twice, as a concentration and as a reading. \
                 Give one of them."
            );
            faults.add("/feed/reading", detail);
        }
        let own = self.strength_given().ok().flatten();
        if let Some(own) = own {
            stock::check_volume_shares(own, &feed.properties, "/feed", faults);
        }
        let products = self.arrivals().iter().filter_map(|arrival| arrival.product.as_deref());
        let first = products.into_iter().next();
        for (i, arrival) in self.arrivals().iter().enumerate() {
            if let (Some(first), Some(product)) = (first, arrival.product.as_deref())
                && first != product
            {
                let detail = sentence!(
                    "This is \"{}\" and an earlier delivery \"{}\". Fluids of different products \
                     are not recycled together: plan each by itself.",
                    product,
                    first
                );
                let pointer = format!("/feed/arrivals/{i}/product");
                faults.add(pointer, detail);
            }
            if let Some(strength) = arrival.concentration.or(own) {
                let properties = if arrival.properties.is_empty() {
                    &feed.properties
                } else {
                    &arrival.properties
                };
                if arrival.concentration.is_some() || !arrival.properties.is_empty() {
                    let pointer = format!("/feed/arrivals/{i}");
                    stock::check_volume_shares(strength, properties, &pointer, faults);
                }
            }
        }
        let all: f64 = self.arrivals().iter().map(|arrival| arrival.volume.get()).sum();
        if feed.arrivals.is_some() && all + self.dirty_level() <= 0.0 {
            let detail = sentence!(
                "There is no fluid to recycle: every delivery is empty, and so is the dirty tank."
            );
            faults.add("/feed/arrivals", detail);
        }
        if feed.spread.is_some() && feed.arrivals.is_none() {
            let detail = sentence!(
                "A spread is about deliveries, and none are given. Give the feed as arrivals, or \
                 leave the spread out."
            );
            faults.add("/feed/spread", detail);
        }
    }

    /// What a blend may not contradict itself in, and the name that the
    /// recovered fluid has among the stocks.
    fn check_correction(&self, faults: &mut Faults) {
        let mut mixing = Faults::default();
        let stocks = self.stocks.as_deref().unwrap_or_default();
        batch::check_mixing(stocks, &self.target.limits, None, &mut mixing);
        if let Err(refusal) = mixing.or_refuse(Kind::Inconsistent) {
            for fault in refusal.faults {
                let limits = fault.pointer.starts_with("/limits");
                let pointer = if limits { "/target" } else { "" }.to_owned() + &fault.pointer;
                faults.add(pointer, fault.detail);
            }
        }
        if let Some(i) = stocks.iter().position(|stock| stock.name == RECOVERED) {
            let detail = sentence!(
                "The fluid that comes out of the recycler is called so already. Give this stock \
                 another name."
            );
            faults.add(format!("/stocks/{i}/name"), detail);
        }
    }

    /// The names of all that the feed and its deliveries carry.
    pub(super) fn carried(&self) -> BTreeSet<&str> {
        let own: &Properties = &self.feed.properties;
        let arrivals = self.arrivals().iter().map(|arrival| &arrival.properties);
        std::iter::once(own).chain(arrivals).flat_map(property_names).collect()
    }
}
