//! What a loop may not contradict itself in.

mod groups;

use super::FluidLoop;
use super::shop::{LoopShop, OIL};
use super::steady::SteadyLoop;
use crate::fluid::hardness;
use crate::fluid::properties::{FOLLOWED_MOST, Properties, TRAMP_OIL, spoken};
use crate::handbook::conversions::MILLIGRAMS_PER_KILOGRAM;
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Concentration, Count, Measure, Quantity, Volume};
use crate::sentence;
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal};

/// The most days that are followed.
const DAYS_MOST: f64 = 3650.0;
/// The days that are followed by default.
const DAYS_BY_DEFAULT: f64 = 365.0;
/// The most steps, each of one group on one day in one property.
const STEPS_MOST: f64 = 2e7;

impl FluidLoop {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        self.check_missing()?;
        let mut faults = Faults::default();
        let names = self.groups.iter().map(|group| group.name.as_str());
        check_unique(names, "groups", "/groups", &mut faults);
        for (i, group) in self.groups.iter().enumerate() {
            group.check(i, &mut faults);
            group.losses.note_faults(&|| format!("/groups/{i}/losses"), &mut faults);
        }
        self.check_fluids(&mut faults);
        self.check_tank_levels(&mut faults);
        if let Some(sheet) = &self.sheet {
            sheet.check("/sheet", &mut faults);
        }
        self.check_limits(&mut faults);
        faults.or_refuse(Kind::Inconsistent)
    }

    /// What can only be held against the flows of the whole shop.
    pub(super) fn check_against(&self, shop: &LoopShop) -> Result<(), Refusal> {
        self.check_tanks(shop)?;
        self.check_days(shop)
    }

    /// What nobody can work out because it is not said.
    fn check_missing(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        for (i, group) in self.groups.iter().enumerate() {
            group.check_missing(i, &mut faults);
        }
        for name in self.limits.names().filter(|name| !self.comes_from_somewhere(name)) {
            let detail = sentence!(
                "There is a limit for {}, but nothing says where it comes from. Say what the \
                 water, the concentrate or the work brings of it, if only 0.",
                spoken(name)
            );
            faults.add(format!("/limits/{name}"), detail);
        }
        faults.or_refuse(Kind::NotIdentifiable)
    }

    /// Water and concentrate bring no oil, and weigh more than what is in them.
    fn check_fluids(&self, faults: &mut Faults) {
        let deionised = self.water.deionised.as_ref().map(|d| &d.properties);
        let concentrate = self.concentrate.as_ref();
        let none = Properties::default();
        hardness::check(&self.water.properties, self.water.hardness, "/water", faults);
        if let Some(pure) = &self.water.deionised {
            hardness::check(&pure.properties, pure.hardness, "/water/deionised", faults);
        }
        let water = (&self.water.properties, "/water/properties", None);
        let pure = (deionised.unwrap_or(&none), "/water/deionised/properties", None);
        let density = concentrate.map(|c| c.density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get));
        let own = concentrate.map_or(&none, |c| &c.properties);
        let concentrate = (own, "/concentrate/properties", density);
        for (properties, pointer, density) in [water, pure, concentrate] {
            if properties.tramp_oil.is_some_and(|oil| oil.get() > 0.0) {
                let detail = sentence!(
                    "Tramp oil comes from the machines, not with water or concentrate. Give it \
                     among a group's gains."
                );
                faults.add(format!("{pointer}/{TRAMP_OIL}"), detail);
            }
            let carried: f64 = properties.matter.values().map(|content| content.get()).sum();
            if density.is_some_and(|rho| carried / MILLIGRAMS_PER_KILOGRAM > rho) {
                let detail = sentence!(
                    "What the concentrate carries weighs more than the concentrate. Check the \
                     contents and the density."
                );
                faults.add(pointer, detail);
            }
        }
    }

    fn check_tank_levels(&self, faults: &mut Faults) {
        let tanks = self.tanks.as_ref();
        let dirty = tanks.and_then(|tanks| Some((tanks.dirty.as_ref()?, "/tanks/dirty")));
        let clean = tanks.and_then(|tanks| Some((tanks.clean.as_ref()?, "/tanks/clean")));
        for (tank, pointer) in dirty.into_iter().chain(clean) {
            if tank.held() > tank.capacity.get() {
                let detail = sentence!(
                    "The tank is fuller than full: {} in a capacity of {}.",
                    Volume::measure_of(tank.held()),
                    tank.capacity
                );
                faults.add(format!("{pointer}/holds"), detail);
            }
        }
    }

    fn check_limits(&self, faults: &mut Faults) {
        let mut check = |name: &str, ends: Option<(Measure, Measure)>| {
            if let Some((min, max)) = ends {
                let detail = sentence!(
                    "The least that is wanted, {}, is more than the most that is tolerated, {}.",
                    min,
                    max
                );
                faults.add(format!("/limits/{name}/min"), detail);
            }
        };
        let kept = self.kept();
        let oil = kept.limits.tramp_oil.and_then(|l| Some((l.min?, l.max?)));
        let oil = oil.filter(|(min, max)| min > max);
        check(TRAMP_OIL, oil.map(|(min, max)| (min.measure(), max.measure())));
        for (name, limit) in &kept.limits.matter {
            let ends = limit.min.zip(limit.max).filter(|(min, max)| min > max);
            check(name, ends.map(|(min, max)| (min.measure(), max.measure())));
        }
    }

    /// What is drained in a day has to fit in above what the tank holds on to.
    fn check_tanks(&self, shop: &LoopShop) -> Result<(), Refusal> {
        let Some(tanks) = &self.tanks else { return Ok(()) };
        let returned = shop.groups.iter().filter(|group| group.returns);
        let drained = returned.filter_map(|group| Some(group.n * (group.v - group.h) / group.t?));
        let drained: f64 = drained.sum();
        let back = drained * (1.0 - shop.lost) * shop.fed * (1.0 - shop.purge);
        let mut faults = Faults::default();
        for (tank, day, pointer) in
            [(&tanks.dirty, drained, "/tanks/dirty"), (&tanks.clean, back, "/tanks/clean")]
        {
            let Some(tank) = tank else { continue };
            if tank.held() + day > tank.capacity.get() {
                let detail = sentence!(
                    "The tank holds on to {} of its {}, and {} a day does not fit on top. Let it \
                     hold less, or take a larger one.",
                    Volume::measure_of(tank.held()),
                    tank.capacity,
                    Volume::measure_of(day)
                );
                faults.add(format!("{pointer}/capacity"), detail);
            }
        }
        faults.or_refuse(Kind::Inconsistent)
    }

    #[expect(clippy::cast_precision_loss, reason = "lists and maps have few entries")]
    fn check_days(&self, shop: &LoopShop) -> Result<(), Refusal> {
        let Some(days) = self.days else { return Ok(()) };
        let most = days_most(shop);
        if days.get() <= most {
            return Ok(());
        }
        let detail = sentence!(
            "A shop of this size, with {} groups and {} properties, can be followed for {} days at \
             most, and {} were asked for. Ask for fewer days, put sumps that are alike into one group, or \
             follow fewer properties.",
            Measure::bare(self.groups.len() as f64),
            Measure::bare(shop.properties() as f64),
            Count::measure_of(most),
            days
        );
        Err(Refusal::new(Kind::OutOfRange, "/days", detail))
    }
}

/// How many days a shop of this size can be followed: its answer has room for a line of each of
/// its properties a day.
#[expect(clippy::cast_precision_loss, reason = "a list has at most 20,000 entries")]
fn days_most(shop: &LoopShop) -> f64 {
    let a_day = (shop.groups.len() * shop.properties()) as f64;
    let lines = (FOLLOWED_MOST / shop.properties().max(1)) as f64;
    (STEPS_MOST / a_day).floor().min(lines).min(DAYS_MOST)
}

/// How many days are followed.
pub(super) fn days_followed(asked: Option<Count>, shop: &LoopShop) -> Result<usize, Refusal> {
    let by_default = Count::of(DAYS_BY_DEFAULT.min(days_most(shop)))?;
    Ok(asked.unwrap_or(by_default).whole())
}

/// Refuses a loop that never settles, or settles to more than all of the fluid.
pub(super) fn check_settled(steady: &SteadyLoop<'_>) -> Result<(), Refusal> {
    if steady.endless.is_some() || steady.salt_given().is_none() {
        let detail = sentence!(
            "All that is drained comes back and nothing else leaves the loop but water to the \
             air, so what comes in piles up without end. Recycle less of it, discard some, or say \
             what the recycler loses and what is carried off."
        );
        return Err(Refusal::new(Kind::Unreachable, "/recycler/lost", detail));
    }
    let mut faults = Faults::default();
    for (g, sump) in steady.sumps().enumerate() {
        let (group, (refilled, oldest)) = (sump.group, sump.contents(OIL));
        let off = if group.d > 0.0 { group.m_c / group.d } else { 0.0 };
        let filled = refilled.max(oldest) + group.c.max(off);
        if filled > 1.0 {
            let detail = sentence!(
                "Tramp oil settles so high that with the concentrate it comes to {} of the fluid, \
                 more than all of it. Drain these sumps sooner, or skim more.",
                Concentration::measure_of_fraction(filled)
            );
            faults.add(format!("/groups/{g}/gains/{TRAMP_OIL}/amount"), detail);
        }
    }
    faults.or_refuse(Kind::Unreachable)
}
