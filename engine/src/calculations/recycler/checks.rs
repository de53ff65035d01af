//! What a question about a recycler may not contradict itself in.

use super::correction::RECOVERED;
use super::plan::MOST_DAYS;
use super::{Mode, Recycler, Stage, Tank, blend};
use crate::calculations::blend::with_nearest;
use crate::calculations::separation::SeparatingStage;
use crate::properties::{Properties, TRAMP_OIL};
use crate::quantity::Quantity;
use crate::refusal::{Faults, Kind, Refusal};
use crate::sentence::{Measure, Sentence};
use crate::stock::{self, escape, property_names};
use std::collections::BTreeSet;

/// The days of a week.
const WEEK: f64 = 7.0;
const HOURS_PER_DAY: f64 = 24.0;

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
    fn ends(&self) -> impl Iterator<Item = (String, f64)> {
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
        for (i, day) in self.runs_on.iter().flatten().enumerate() {
            if day.get() >= WEEK {
                let detail = "The days of the week on which the recycler runs are numbered from 0 \
                              to 6, and {} is none of them.";
                let detail = Sentence::new(detail).with(day.measure());
                faults.add(format!("/runs_on/{i}"), detail);
            }
        }
        if self.hours_per_day.get() <= 0.0 {
            let detail = "A recycler that runs no hours recycles nothing. Give its hours a day.";
            faults.add("/hours_per_day", Sentence::new(detail));
        }
        if let Some(days) = self.plan_days
            && !(1.0..=MOST_DAYS).contains(&days.get())
        {
            let detail = "A plan has 1 to {} days, and {} were asked for.";
            let detail = Sentence::new(detail).with(Measure::bare(MOST_DAYS)).with(days.measure());
            faults.add("/plan_days", detail);
        }
        if self.plan_days.is_none() {
            for (pointer, _) in self.ends().filter(|(_, end)| *end >= MOST_DAYS) {
                let detail = "A plan has {} days at most, and this ends later.";
                faults.add(pointer, Sentence::new(detail).with(Measure::bare(MOST_DAYS)));
            }
        }
        if self.feed.spread.as_ref().and_then(|s| s.draws).is_some_and(|draws| draws.get() < 1.0) {
            let detail = "A probability wants at least one draw; a thousand or more are useful.";
            faults.add("/feed/spread/draws", Sentence::new(detail));
        }
    }

    fn check_feed(&self, faults: &mut Faults) {
        let feed = &self.feed;
        if feed.volume.is_some() && feed.arrivals.is_some() {
            let detail = "The feed is given twice, as one batch and as deliveries. Give one of \
                          them; a batch at the start can be a delivery on day 0.";
            faults.add("/feed/arrivals", Sentence::new(detail));
        }
        if feed.concentration.is_some() && feed.reading.is_some() {
            let detail = "The strength of the feed is given twice, as a concentration and as a \
                          reading. Give one of them.";
            faults.add("/feed/reading", Sentence::new(detail));
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
                let detail = format!(
                    "This is {product:?} and an earlier delivery {first:?}. Fluids of different \
                     products are not recycled together: plan each by itself."
                );
                let pointer = format!("/feed/arrivals/{i}/product");
                faults.add(pointer, Sentence::new(escape(&detail)));
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
            let detail = "There is nothing to recycle: every delivery is empty, and so is the \
                          dirty tank.";
            faults.add("/feed/arrivals", Sentence::new(detail));
        }
        if feed.spread.is_some() && feed.arrivals.is_none() {
            let detail = "A spread is about deliveries, and none are given. Give the feed as \
                          arrivals, or leave the spread out.";
            faults.add("/feed/spread", Sentence::new(detail));
        }
    }

    fn check_stages(&self, faults: &mut Faults) {
        let mut names = BTreeSet::new();
        let known = self.carried();
        for (s, stage) in self.stages.iter().enumerate() {
            if !names.insert(stage.name.as_str()) {
                let detail =
                    format!("Two stages are called {:?}. Give each its own name.", stage.name);
                faults.add(format!("/stages/{s}/name"), Sentence::new(escape(&detail)));
            }
            if stage.throughput.get() <= 0.0 {
                let detail = "Nothing gets through a stage without throughput. Say how much fluid \
                              it takes in an hour.";
                faults.add(format!("/stages/{s}/throughput"), Sentence::new(detail));
            }
            if stage.good_fluid_lost.is_some_and(|share| share.get() >= 100.0) {
                let detail = "A stage that loses all of the good fluid recovers nothing.";
                faults.add(format!("/stages/{s}/good_fluid_lost"), Sentence::new(detail));
            }
            check_removed(s, stage, &known, faults);
        }
    }

    fn check_plant(&self, faults: &mut Faults) {
        if let Some(tanks) = &self.tanks {
            check_tank("dirty", &tanks.dirty, faults);
            check_tank("clean", &tanks.clean, faults);
        }
        if let Some(days) = self.plan_days.map(Quantity::get) {
            for (pointer, _) in self.ends().filter(|(_, end)| *end >= days) {
                let detail = "The plan of {} days is over before this is done. Give the plan more \
                              days, or leave this out.";
                faults.add(pointer, Sentence::new(detail).with(Measure::bare(days)));
            }
        }
    }

    fn check_sources(&self, faults: &mut Faults) {
        if self.sources.is_none() {
            return;
        }
        if self.mode != Mode::Recirculate || self.feed.volume.is_none() {
            let detail = "Sources are for one batch that is recirculated. Give the feed's volume \
                          and the mode \"recirculate\", or leave the sources out.";
            faults.add("/sources", Sentence::new(detail));
        }
        let known = self.carried();
        for (i, source) in self.sources.iter().flatten().enumerate() {
            let name = source.property.as_str();
            if name == TRAMP_OIL || !known.contains(name) {
                let detail = format!(
                    "The feed does not say how much {name:?} it carries in mg/L. Give it among the \
                     feed's properties, 0 if there is none at the start."
                );
                let matter = known.iter().copied().filter(|known| *known != TRAMP_OIL);
                let detail = with_nearest(detail, name, matter);
                faults.add(format!("/sources/{i}/property"), Sentence::new(escape(&detail)));
            }
        }
    }

    /// What a blend may not contradict itself in, and the name that the
    /// recovered fluid has among the stocks.
    fn check_correction(&self, faults: &mut Faults) {
        let mut mixing = Faults::default();
        let stocks = self.stocks.as_deref().unwrap_or_default();
        blend::check_mixing(stocks, &self.target.limits, None, &mut mixing);
        if let Err(refusal) = mixing.or_refuse(Kind::Inconsistent) {
            for fault in refusal.faults {
                let limits = fault.pointer.starts_with("/limits");
                let pointer = if limits { "/target" } else { "" }.to_owned() + &fault.pointer;
                faults.add(pointer, fault.detail);
            }
        }
        if let Some(i) = stocks.iter().position(|stock| stock.name == RECOVERED) {
            let detail = "The fluid that comes out of the recycler is called so already. Give this \
                          stock another name.";
            faults.add(format!("/stocks/{i}/name"), Sentence::new(detail));
        }
    }

    fn check_what_is_missing(&self, faults: &mut Faults) {
        let feed = &self.feed;
        if feed.volume.is_none() && feed.arrivals.is_none() {
            let detail = "How much there is to recycle is missing. Give the feed's volume, or its \
                          arrivals by day.";
            faults.add("/feed/volume", Sentence::new(detail));
        }
        let on_feed = self.batch() + self.dirty_level() > 0.0
            || self.arrivals().iter().any(|arrival| arrival.concentration.is_none());
        if on_feed && feed.concentration.is_none() && feed.reading.is_none() {
            let detail = "The strength of the dirty fluid is missing. Give its concentration in % \
                          by volume, or a reading.";
            faults.add("/feed/concentration", Sentence::new(detail));
        }
        let known = self.carried();
        if feed.emulsified_share.is_some() && !known.contains(TRAMP_OIL) {
            let detail = "How much of the tramp oil is emulsified is said, but not how much tramp \
                          oil there is. Give it among the feed's properties.";
            faults.add("/feed/emulsified_share", Sentence::new(detail));
        }
        if feed.spread.is_some() && self.tanks.is_none() {
            let detail = "How likely the dirty tank is to run over depends on its capacity. Give \
                          the tanks, or leave the spread out.";
            faults.add("/feed/spread", Sentence::new(detail));
        }
        let limits = &self.target.limits;
        let limited = limits.tramp_oil.iter().map(|_| TRAMP_OIL);
        for name in limited.chain(limits.matter.keys().map(String::as_str)) {
            if !known.contains(name) {
                let detail = format!(
                    "There is a limit on {name}, but the feed does not say how much of it it \
                     carries. Give it among the feed's properties."
                );
                let detail = with_nearest(detail, name, known.iter().copied());
                faults.add(format!("/target/limits/{name}"), Sentence::new(detail));
            }
        }
    }

    /// The names of all that the feed and its deliveries carry.
    fn carried(&self) -> BTreeSet<&str> {
        let own: &Properties = &self.feed.properties;
        let arrivals = self.arrivals().iter().map(|arrival| &arrival.properties);
        std::iter::once(own).chain(arrivals).flat_map(property_names).collect()
    }
}

/// A stage removes only what the feed is said to carry, and says how much once.
fn check_removed(s: usize, stage: &Stage, known: &BTreeSet<&str>, faults: &mut Faults) {
    if let Some(separator) = &stage.separator {
        if !stage.removes.is_empty() {
            let detail = "What this stage removes is given twice, as shares and by a separator. \
                          Give one of them.";
            faults.add(format!("/stages/{s}/removes"), Sentence::new(detail));
        }
        if matches!(separator.stage, SeparatingStage::Ultrafiltration(_)) {
            let detail = "A membrane divides the fluid in two, which a share removed does not \
                          tell. Ask for it as a separation, and give here the shares that it \
                          removes and the good fluid that is lost.";
            faults.add(format!("/stages/{s}/separator/stage"), Sentence::new(detail));
        }
    }
    let oil = stage.removes.tramp_oil.map(|_| TRAMP_OIL);
    let given = oil.into_iter().chain(stage.removes.matter.keys().map(String::as_str));
    let given = given.map(|name| (format!("/stages/{s}/removes/{name}"), name));
    let sized = stage.separator.iter().flat_map(|separator| separator.particles.iter().enumerate());
    let sized = sized.map(|(i, particles)| {
        let at = format!("/stages/{s}/separator/particles/{i}/property");
        (at, particles.property.as_str())
    });
    for (at, name) in given.chain(sized) {
        if !known.contains(name) {
            let detail = format!(
                "This stage removes {name}, but the feed does not say how much of it it carries. \
                 Give it among the feed's properties."
            );
            let detail = with_nearest(detail, name, known.iter().copied());
            faults.add(at, Sentence::new(detail));
        }
    }
}

fn check_tank(name: &str, tank: &Tank, faults: &mut Faults) {
    if tank.level() > tank.capacity.get() {
        let detail = format!("The {name} tank is fuller than full: {{}} in a capacity of {{}}.");
        let detail =
            Sentence::new(detail).with(Measure::of(crate::quantity::Volume::ROW, tank.level()));
        faults.add(format!("/tanks/{name}/level"), detail.with(tank.capacity.measure()));
    }
}
