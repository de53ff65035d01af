//! From the question to the plan of a course: litres, fractions and milligrams.

use super::Forecast;
use super::{FeedAlways, FeedStock, Feeding};
use crate::dynamics::{
    Amounts, BandSide, CourseAddition, CoursePlan, Edge, FeedingHabit, MaterialDensities, Portion,
    RestDays, SteadyFlow, SumpFeed, Watched,
};
use crate::fluid::properties::{Properties, PropertyName, TRAMP_OIL};
use crate::fluid::sheet::{self, KeptLimits};
use crate::fluid::supply::MakeUpWater;
use crate::numerics::order;
use crate::quantity::{Concentration, Quantity, Volume};
use crate::text::Refusal;
use std::collections::BTreeSet;

/// A question as the course of a sump has it.
pub(super) struct Planned {
    pub(super) plan: CoursePlan,
    /// The names of what is followed by mg/L.
    pub(super) names: Vec<PropertyName>,
    /// Whether anything speaks of tramp oil.
    pub(super) oil_followed: bool,
    /// What it is fed with, if at all.
    pub(super) feed: Option<SumpFeed>,
    /// What is fed all the time, L/day.
    pub(super) steady: Portion,
    /// The same on days on which the shop does not work.
    pub(super) steady_at_rest: Portion,
    pub(super) densities: MaterialDensities,
}

impl Forecast {
    pub(super) fn plan(&self) -> Result<Planned, Refusal> {
        let c_0 = self.check()?;
        let names = self.names();
        let target = self.band.as_ref().map(|band| band.target);
        let feed = self.feeding.as_ref().map(|feeding| feeding.with().feed(target, &names));
        let mut flow = SteadyFlow {
            evaporation: self.losses.evaporates(),
            carry_off: self.losses.carried_off(),
            depletion: self.losses.depletion(),
            discharge: self.discharge.map_or(0.0, Quantity::get),
            oil_leak: self.oil.map_or(0.0, |oil| oil.leaks()),
            skimmed: self.oil.map_or(0.0, |oil| oil.skims()),
            fed: Amounts::nothing(names.len()),
        };
        let mut steady = Portion::default();
        if let (Some(Feeding::Always(always)), Some(feed)) = (&self.feeding, &feed) {
            steady = feed.steady(&flow, always.rate.map(Quantity::get));
            flow.fed = feed.amounts(steady);
        }
        let (rest, steady_at_rest) = self.rest(&flow, feed.as_ref(), names.len()).unzip();
        let full = self.sump.capacity.get();
        let habit = match (&self.feeding, &feed) {
            (Some(feeding), Some(feed)) => feeding.habit(feed, full),
            _ => FeedingHabit::None,
        };
        let plan = CoursePlan {
            start: Amounts::of(self.sump.volume.get(), c_0.get(), &self.sump.properties, &names),
            flow,
            rest,
            habit,
            additions: self.additions(&names),
            edges: self.edges(&names),
            days: self.days.get(),
        };
        let densities = self.densities.unwrap_or_default();
        let oil_followed = self.known().contains(TRAMP_OIL);
        let steady_at_rest = steady_at_rest.unwrap_or_default();
        Ok(Planned { plan, names, oil_followed, feed, steady, steady_at_rest, densities })
    }

    /// What comes and goes on days on which the shop does not work, and what of it is fed. What
    /// holds the level is fed then too; what is metered runs with the machine.
    fn rest(
        &self,
        flow: &SteadyFlow,
        feed: Option<&SumpFeed>,
        followed: usize,
    ) -> Option<(RestDays, Portion)> {
        let calendar = self.calendar.as_ref()?;
        let mut at_rest = SteadyFlow {
            evaporation: self.standing.map_or(0.0, Quantity::get),
            carry_off: 0.0,
            depletion: flow.depletion,
            discharge: 0.0,
            oil_leak: 0.0,
            skimmed: 0.0,
            fed: Amounts::nothing(followed),
        };
        let mut steady = Portion::default();
        if let (Some(Feeding::Always(FeedAlways { rate: None, .. })), Some(feed)) =
            (&self.feeding, feed)
        {
            steady = feed.steady(&at_rest, None);
            at_rest.fed = feed.amounts(steady);
        }
        let turns = calendar.turns(calendar.zero()?, self.days.get());
        Some((RestDays { flow: at_rest, turns }, steady))
    }

    /// Everything that the question speaks of, limits aside.
    pub(super) fn known(&self) -> BTreeSet<&str> {
        let mut known: BTreeSet<&str> = self.sump.properties.names().collect();
        match self.feeding.as_ref().map(Feeding::with) {
            Some(FeedStock::Premix(premix)) => known.extend(premix.names()),
            Some(FeedStock::WaterAndConcentrate(mixed)) => {
                known.extend(mixed.water.iter().flat_map(MakeUpWater::names));
                known.extend(mixed.concentrate.iter().flat_map(|own| own.properties.names()));
            }
            None => {}
        }
        let added = self.changes.iter().flatten().filter_map(|change| change.added.as_ref());
        known.extend(added.flat_map(|added| added.properties.names()));
        known.extend(self.oil.and_then(|oil| oil.leak.or(oil.skimmer)).map(|_| TRAMP_OIL));
        known
    }

    /// The limits that the fluid is kept in, the stricter of the question's and its sheet's.
    pub(super) fn kept(&self) -> KeptLimits<'_> {
        let followed = self.sheet.iter().flat_map(|_| self.known());
        sheet::kept(&self.limits, self.sheet.as_ref(), followed)
    }

    fn names(&self) -> Vec<PropertyName> {
        let names = self.known().into_iter().filter(|name| *name != TRAMP_OIL);
        names.map(PropertyName::from).collect()
    }

    /// Where the properties lie of what may carry `name` and does not say so, and what it is.
    pub(super) fn silent_on(&self, name: &str) -> Vec<(String, &'static str)> {
        let silent = |properties: &Properties| !properties.has(name);
        let mut pointers = Vec::new();
        if silent(&self.sump.properties) {
            pointers.push(("/sump/properties".to_owned(), "sump"));
        }
        match self.feeding.as_ref().map(Feeding::with) {
            Some(FeedStock::Premix(premix)) if !premix.names().any(|own| own == name) => {
                pointers.push(("/feeding/with/properties".to_owned(), "premix"));
            }
            Some(FeedStock::WaterAndConcentrate(mixed))
                if !mixed.water.iter().flat_map(MakeUpWater::names).any(|own| own == name) =>
            {
                pointers.push(("/feeding/with/water/properties".to_owned(), "water"));
            }
            _ => {}
        }
        for (i, change) in self.changes.iter().flatten().enumerate() {
            if change.added.as_ref().is_some_and(|added| silent(&added.properties)) {
                pointers.push((format!("/changes/{i}/added/properties"), "fluid poured in"));
            }
        }
        pointers
    }

    fn additions(&self, names: &[PropertyName]) -> Vec<CourseAddition> {
        let changes = self.changes.iter().flatten();
        let mut additions: Vec<CourseAddition> = changes
            .map(|change| CourseAddition {
                day: change.day.get(),
                removed: change.removed.as_ref().map_or(0.0, |removed| removed.volume.get()),
                added: change.added.as_ref().map(|added| {
                    let (volume, c) = (added.volume.get(), added.concentration.get());
                    Amounts::of(volume, c, &added.properties, names)
                }),
            })
            .collect();
        order::least_first(&mut additions, |addition| addition.day);
        additions
    }

    /// The ends of every band there is.
    fn edges(&self, names: &[PropertyName]) -> Vec<Edge> {
        let mut edges = Vec::new();
        let mut watch = |what, low: Option<f64>, high: Option<f64>| {
            edges.extend(low.map(|at| Edge::new(what, BandSide::Below, at)));
            edges.extend(high.map(|at| Edge::new(what, BandSide::Above, at)));
        };
        if let Some(band) = &self.band {
            let share = |c: Concentration| Some(c.fraction());
            watch(Watched::Concentration, share(band.low), share(band.high));
        }
        let (least, most) = self.levels();
        watch(Watched::Volume, least, Some(most));
        let kept = self.kept();
        if let Some(limit) = &kept.limits.tramp_oil {
            let share = |c: Option<Concentration>| c.map(Concentration::fraction);
            watch(Watched::TrampOil, share(limit.min), share(limit.max));
        }
        for (i, name) in names.iter().enumerate() {
            if let Some(limit) = kept.of(name) {
                let (low, high) = (limit.min.map(Quantity::get), limit.max.map(Quantity::get));
                watch(Watched::Matter(i), low, high);
            }
        }
        edges
    }

    /// The least level, where there is one, and the highest, L.
    pub(super) fn levels(&self) -> (Option<f64>, f64) {
        let level = |of: fn(&super::LevelBand) -> Option<Volume>| {
            self.levels.as_ref().and_then(of).map(Quantity::get)
        };
        let most = level(|levels| levels.max).unwrap_or(self.sump.capacity.get());
        (level(|levels| levels.min), most)
    }
}

impl Planned {
    /// What is fed all the time, from day 0 to `day`.
    pub(super) fn steadily(&self, day: f64) -> Portion {
        let split = self.plan.rest.as_ref().map(|rest| rest.split(day));
        let (worked, rested) = split.unwrap_or((day, 0.0));
        Portion {
            weak: self.steady.weak * worked + self.steady_at_rest.weak * rested,
            strong: self.steady.strong * worked + self.steady_at_rest.strong * rested,
        }
    }
}
