//! What a loop may not contradict itself in.

use super::shop::{MILLIGRAMS_PER_KILOGRAM, OIL, Shop};
use super::steady::Steady;
use super::{FluidLoop, SumpGroup};
use crate::fluid::properties::{Properties, TRAMP_OIL};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Concentration, Count, DailyRate, Days, Measure, Quantity, Volume};
use crate::text::names::check_unique;
use crate::text::{Faults, Kind, Refusal, Sentence};

/// So many days of the way there at most.
const DAYS_MOST: f64 = 3650.0;
/// What is told when nothing is said.
const DAYS_USUAL: f64 = 365.0;
/// So many steps of a group, a day and a property at most.
const STEPS_MOST: f64 = 2e7;

impl FluidLoop {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        self.check_missing()?;
        let mut faults = Faults::default();
        let names = self.groups.iter().map(|group| group.name.as_str());
        check_unique(names, "groups", "/groups", &mut faults);
        for (i, group) in self.groups.iter().enumerate() {
            group.check(i, &mut faults);
        }
        self.check_fluids(&mut faults);
        self.check_limits(&mut faults);
        faults.or_refuse(Kind::Inconsistent)
    }

    /// What can only be held against the flows of the whole shop.
    pub(super) fn check_against(&self, shop: &Shop) -> Result<(), Refusal> {
        self.check_tanks(shop)?;
        self.check_days(shop)
    }

    /// What nobody can work out because it is not said.
    fn check_missing(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        for (i, group) in self.groups.iter().enumerate() {
            if group.clean_out.is_none() && group.losses.carry_off.get() == 0.0 {
                let detail = "Nothing ever leaves these sumps but water, so what comes in piles up \
                              without end. Give what is carried off, or when they are drained.";
                faults.add(format!("/groups/{i}/losses/carry_off"), Sentence::new(detail));
            }
            let silent = group.clean_out.as_ref();
            if silent.is_some_and(|c| c.every_days.is_none() && c.every_months.is_none()) {
                let detail = "How often these sumps are drained is missing. Give every_days or \
                              every_months, or leave clean_out out where they never are.";
                faults.add(format!("/groups/{i}/clean_out/every_days"), Sentence::new(detail));
            }
            for (name, gain) in &group.gains.matter {
                if gain.amount.is_none() && gain.rise.is_none() {
                    let detail = "How much of it the work brings is missing. Give its amount in a \
                                  day, or by how much a day raises its content.";
                    let pointer = format!("/groups/{i}/gains/{name}/amount");
                    faults.add(pointer, Sentence::new(detail));
                }
            }
        }
        for name in self.limits.names().filter(|name| !self.comes_from_somewhere(name)) {
            let detail = format!(
                "There is a limit for {name}, but nothing says where it comes from. Say what the \
                 water, the concentrate or the work brings of it, if only 0."
            );
            faults.add(format!("/limits/{name}"), Sentence::new(detail));
        }
        faults.or_refuse(Kind::NotIdentifiable)
    }

    /// Water and concentrate bring no oil, and weigh more than what is in them.
    fn check_fluids(&self, faults: &mut Faults) {
        let deionised = self.water.deionised.as_ref().map(|d| &d.properties);
        let concentrate = self.concentrate.as_ref();
        let none = Properties::default();
        let water = (&self.water.properties, "/water/properties", None);
        let pure = (deionised.unwrap_or(&none), "/water/deionised/properties", None);
        let density = concentrate.map(|c| c.density.map_or(DENSITY_AT_20_CELSIUS, Quantity::get));
        let own = concentrate.map_or(&none, |c| &c.properties);
        let concentrate = (own, "/concentrate/properties", density);
        for (properties, pointer, density) in [water, pure, concentrate] {
            if properties.tramp_oil.is_some_and(|oil| oil.get() > 0.0) {
                let detail = "Tramp oil comes from the machines, not with water or concentrate. \
                              Give it among a group's gains.";
                faults.add(format!("{pointer}/{TRAMP_OIL}"), Sentence::new(detail));
            }
            let carried: f64 = properties.matter.values().map(|content| content.get()).sum();
            if density.is_some_and(|rho| carried / MILLIGRAMS_PER_KILOGRAM > rho) {
                let detail = "What the concentrate carries weighs more than the concentrate. Check \
                              the contents and the density.";
                faults.add(pointer, Sentence::new(detail));
            }
        }
        let tanks = self.tanks.as_ref();
        let dirty = tanks.and_then(|tanks| Some((tanks.dirty.as_ref()?, "/tanks/dirty")));
        let clean = tanks.and_then(|tanks| Some((tanks.clean.as_ref()?, "/tanks/clean")));
        for (tank, pointer) in dirty.into_iter().chain(clean) {
            if tank.held() > tank.capacity.get() {
                let detail = "The tank is fuller than full: {} in a capacity of {}.";
                let detail = Sentence::new(detail).with(Measure::of(Volume::ROW, tank.held()));
                faults.add(format!("{pointer}/holds"), detail.with(tank.capacity.measure()));
            }
        }
    }

    fn check_limits(&self, faults: &mut Faults) {
        let mut check = |name: &str, ends: Option<(Measure, Measure)>| {
            if let Some((min, max)) = ends {
                let detail = "The least that is wanted, {}, is more than the most that is \
                              tolerated, {}.";
                let detail = Sentence::new(detail).with(min).with(max);
                faults.add(format!("/limits/{name}/min"), detail);
            }
        };
        let oil = self.limits.tramp_oil.and_then(|l| Some((l.min?, l.max?)));
        let oil = oil.filter(|(min, max)| min > max);
        check(TRAMP_OIL, oil.map(|(min, max)| (min.measure(), max.measure())));
        for (name, limit) in &self.limits.matter {
            let ends = limit.min.zip(limit.max).filter(|(min, max)| min > max);
            check(name, ends.map(|(min, max)| (min.measure(), max.measure())));
        }
    }

    /// What is drained in a day has to fit in above what the tank holds on to.
    fn check_tanks(&self, shop: &Shop) -> Result<(), Refusal> {
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
                let detail = "The tank holds on to {} of its {}, and {} a day does not fit on top. \
                              Let it hold less, or take a larger one.";
                let detail = Sentence::new(detail)
                    .with(Measure::of(Volume::ROW, tank.held()))
                    .with(tank.capacity.measure())
                    .with(Measure::of(Volume::ROW, day));
                faults.add(format!("{pointer}/capacity"), detail);
            }
        }
        faults.or_refuse(Kind::Inconsistent)
    }

    fn check_days(&self, shop: &Shop) -> Result<(), Refusal> {
        let Some(days) = self.days else { return Ok(()) };
        let most = days_most(shop);
        if days.get() <= most {
            return Ok(());
        }
        let detail = "A shop of this size can be followed for {} days at most, and {} were asked \
                      for. Ask for fewer days, or put sumps that are alike into one group.";
        let detail = Sentence::new(detail).with(Measure::of(Count::ROW, most)).with(days.measure());
        Err(Refusal::new(Kind::OutOfRange, "/days", detail))
    }
}

/// How many days a shop of this size can be followed.
#[expect(clippy::cast_precision_loss, reason = "a list has at most 20,000 entries")]
fn days_most(shop: &Shop) -> f64 {
    let a_day = (shop.groups.len() * shop.properties()) as f64;
    (STEPS_MOST / a_day).floor().min(DAYS_MOST)
}

/// How many days of the way there are told.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole and small")]
pub(super) fn days_told(asked: Option<Count>, shop: &Shop) -> usize {
    asked.map_or(DAYS_USUAL.min(days_most(shop)), Quantity::get) as usize
}

impl SumpGroup {
    /// Checks the group at place `i` of the list.
    fn check(&self, i: usize, faults: &mut Faults) {
        let mut add = |member: &str, detail: Sentence| {
            faults.add(format!("/groups/{i}/{member}"), detail);
        };
        if self.count.is_some_and(|count| count.get() == 0.0) {
            let detail = "There are none of these sumps. Leave the group out.";
            add("count", Sentence::new(detail));
        }
        if let Some(clean_out) = &self.clean_out {
            if clean_out.every_days.is_some() && clean_out.every_months.is_some() {
                let detail = "How often these sumps are drained is given twice, in days and in \
                              months. Give one of them.";
                add("clean_out/every_months", Sentence::new(detail));
            } else if let Some(days) = self.interval().filter(|days| *days < 1.0) {
                let detail = "A sump can be drained once a day at most, and {} is less than one \
                              day. What is discharged all day long belongs to carry_off.";
                let member = if clean_out.every_days.is_some() { "days" } else { "months" };
                let detail = Sentence::new(detail).with(Measure::of(Days::ROW, days));
                add(&format!("clean_out/every_{member}"), detail);
            }
        }
        if self.residue() >= self.volume.get() {
            let detail = "The residue of {} leaves nothing to drain from {}.";
            let residue = Measure::of(Volume::ROW, self.residue());
            let detail = Sentence::new(detail).with(residue).with(self.volume.measure());
            add("clean_out/residue", detail);
        }
        for (name, gain) in &self.gains.matter {
            if gain.amount.is_some() && gain.rise.is_some() {
                let detail = "What the work brings is given twice, as an amount and as a rise. \
                              Give one of them.";
                add(&format!("gains/{name}/rise"), Sentence::new(detail));
            }
        }
        self.check_losses(&mut add);
        if let Some(now) = &self.carries_now {
            let oil = now.tramp_oil.map_or(0.0, Quantity::get);
            if self.concentration.get() + oil > 100.0 {
                let filled = Measure::of(Concentration::ROW, self.concentration.get() + oil);
                let detail = "Concentrate and tramp oil together come to {} of the fluid, more \
                              than all of it.";
                add(&format!("carries_now/{TRAMP_OIL}"), Sentence::new(detail).with(filled));
            }
        }
    }

    fn check_losses(&self, add: &mut impl FnMut(&str, Sentence)) {
        let (e, d) = (self.losses.evaporation.get(), self.losses.carry_off.get());
        let off = self.losses.depletion() * self.concentration.get();
        let l = self.gains.tramp_oil.map_or(0.0, Quantity::get);
        if off > 100.0 {
            let detail = "What is carried off would be {} concentrate, more than all of it. Lower \
                          the depletion ratio.";
            let detail = Sentence::new(detail).with(Measure::of(Concentration::ROW, off));
            add("losses/depletion_ratio", detail);
        } else if l + d * off / 100.0 > e + d {
            let detail = "{} of tramp oil and {} of concentrate come in, more than the {} that the \
                          sump loses, so it would run over. Lower the oil that stays in the fluid \
                          by what is skimmed off.";
            let rate = |litres: f64| Measure::of(DailyRate::ROW, litres);
            let detail = Sentence::new(detail).with(rate(l)).with(rate(d * off / 100.0));
            add(&format!("gains/{TRAMP_OIL}"), detail.with(rate(e + d)));
        }
    }
}

/// Refuses a loop that never settles, or settles to more than all of the fluid.
pub(super) fn check_settled(steady: &Steady<'_>) -> Result<(), Refusal> {
    if steady.endless.is_some() || steady.salt_given().is_none() {
        let detail = "All that is drained comes back and nothing else leaves the loop but water to \
                      the air, so what comes in piles up without end. Recycle less of it, discard \
                      some, or say what the recycler loses and what is carried off.";
        return Err(Refusal::new(Kind::Unreachable, "/recycler/lost", Sentence::new(detail)));
    }
    let mut faults = Faults::default();
    for (g, sump) in steady.sumps().enumerate() {
        let (group, (refilled, oldest)) = (sump.group, sump.contents(OIL));
        let off = if group.d > 0.0 { group.m_c / group.d } else { 0.0 };
        let filled = refilled.max(oldest) + group.c.max(off);
        if filled > 1.0 {
            let detail = "Tramp oil settles so high that with the concentrate it comes to {} of \
                          the fluid, more than all of it. Drain these sumps sooner, or skim more.";
            let filled = Measure::of(Concentration::ROW, filled * 100.0);
            let pointer = format!("/groups/{g}/gains/{TRAMP_OIL}");
            faults.add(pointer, Sentence::new(detail).with(filled));
        }
    }
    faults.or_refuse(Kind::Unreachable)
}
