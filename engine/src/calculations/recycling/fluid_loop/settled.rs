//! Where each group and each property settles, and the way to steady state, wrapped as the answer.

use super::answer::{
    GroupMakeUp, GroupRefill, LoopDay, SettledContents, SettledGroup, SettledMatter, SettledOil,
};
use super::cycle::LifeAverage;
use super::excess::excesses;
use super::shop::OIL;
use super::steady::SteadyLoop;
use super::transient::LoopTransient;
use crate::fluid::properties::{ByProperty, Properties};
use crate::quantity::{Concentration, Content, Count, DailyRate, Days, Quantity, Ratio, Volume};
use crate::text::Refusal;

/// What the worst and the best sump and the mean of all carry of a property.
#[derive(Debug, Clone, Copy)]
pub(super) struct ContentSpread {
    pub(super) highest: (f64, usize),
    pub(super) lowest: f64,
    mean: f64,
}

/// The spread of every property, by its place.
pub(super) fn spreads(steady: &SteadyLoop<'_>) -> Vec<ContentSpread> {
    let none = ContentSpread { highest: (f64::NEG_INFINITY, 0), lowest: f64::INFINITY, mean: 0.0 };
    let mut spreads = vec![none; steady.shop.properties()];
    let mut volume = 0.0;
    for (g, sump) in steady.sumps().enumerate() {
        let (all, average) = (sump.group.n * sump.group.v, LifeAverage::over(sump.group));
        volume += all;
        for (p, spread) in spreads.iter_mut().enumerate() {
            let (refilled, oldest) = sump.contents(p);
            let (low, high) = (refilled.min(oldest), refilled.max(oldest));
            if high > spread.highest.0 {
                spread.highest = (high, g);
            }
            spread.lowest = spread.lowest.min(low);
            spread.mean += all * sump.mean(p, &average);
        }
    }
    spreads.iter_mut().for_each(|spread| spread.mean /= volume);
    spreads
}

pub(super) fn settles(
    steady: &SteadyLoop<'_>,
    transient: &LoopTransient,
) -> Result<SettledContents, Refusal> {
    let shop = steady.shop;
    let recycled = steady.recycled();
    let overs = excesses(steady);
    let in_limits = |p: usize| {
        let mut own = overs.iter().filter(|over| over.p == p).peekable();
        own.peek().is_some().then(|| own.all(|over| over.by <= 0.0))
    };
    let passes = |p: usize| {
        let max = shop.limits[p].1?;
        transient.highest[p]
            .iter()
            .zip(0_u32..)
            .find(|(s, _)| **s > max)
            .map(|(_, day)| f64::from(day))
    };
    let name = |g: usize| shop.group_name(g).to_owned();
    let spreads = spreads(steady);
    let mut settles = ByProperty::default();
    if shop.oil {
        let spread = &spreads[OIL];
        let share = |o: f64| Concentration::of_fraction(o);
        settles.tramp_oil = Some(SettledOil {
            highest: share(spread.highest.0)?,
            highest_in: name(spread.highest.1),
            lowest: share(spread.lowest)?,
            mean: share(spread.mean)?,
            recycled: recycled.as_ref().map(|r| share(r[OIL])).transpose()?,
            in_limits: in_limits(OIL),
            passes_limit_day: passes(OIL).map(Days::of).transpose()?,
        });
    }
    for (p, property) in (1..).zip(&shop.names) {
        let spread = &spreads[p];
        let matter = SettledMatter {
            highest: Content::of(spread.highest.0)?,
            highest_in: name(spread.highest.1),
            lowest: Content::of(spread.lowest)?,
            mean: Content::of(spread.mean)?,
            recycled: recycled.as_ref().map(|r| Content::of(r[p])).transpose()?,
            in_limits: in_limits(p),
            passes_limit_day: passes(p).map(Days::of).transpose()?,
        };
        settles.matter.insert(property.clone(), matter);
    }
    Ok(settles)
}

pub(super) fn groups(steady: &SteadyLoop<'_>) -> Result<Vec<SettledGroup>, Refusal> {
    let shop = steady.shop;
    let salt = steady.salt_given();
    let given = steady.given.c + steady.given.rest;
    let (mut refilled, mut oldest) = (vec![0.0; shop.properties()], vec![0.0; shop.properties()]);
    let mut settled = Vec::with_capacity(shop.groups.len());
    for (g, sump) in steady.sumps().enumerate() {
        let (group, mix) = (sump.group, &sump.mix);
        for p in 0..shop.properties() {
            (refilled[p], oldest[p]) = sump.contents(p);
        }
        let make_up = group.m_c + group.m_w;
        let strength = if make_up > 0.0 { group.m_c / make_up } else { 0.0 };
        let refill = group.t.map(|t| {
            let one = |rate: f64| Volume::of(rate * t / group.n);
            let (recycled, concentrate) = (one(mix.chi * given)?, one(mix.y)?);
            Ok::<_, Refusal>(GroupRefill { recycled, concentrate, water: one(mix.w)? })
        });
        settled.push(SettledGroup {
            name: shop.group_name(g).to_owned(),
            cycles: Ratio::of(salt.map_or(f64::INFINITY, |given| sump.of_a_litre(given)))?,
            make_up: GroupMakeUp {
                recycled: DailyRate::of(mix.chi_m * given / group.n)?,
                concentrate: DailyRate::of(mix.m_c)?,
                water: DailyRate::of(mix.m_w)?,
                concentration: Concentration::of_fraction(strength.clamp(0.0, 1.0))?,
            },
            refill: refill.transpose()?,
            oldest: shop.named(&oldest)?,
            refilled: shop.named(&refilled)?,
        });
    }
    Ok(settled)
}

pub(super) fn series(
    steady: &SteadyLoop<'_>,
    transient: &LoopTransient,
) -> Result<Vec<LoopDay>, Refusal> {
    let shop = steady.shop;
    let recycles = steady.given.c + steady.given.rest > 0.0;
    let days = (0_u32..).zip(&transient.highest[OIL]).map(|(day, _)| day);
    let of = |contents: &[Vec<f64>], day: u32| {
        let day = day as usize;
        let on_day: Vec<f64> = contents.iter().map(|property| property[day]).collect();
        shop.named(&on_day)
    };
    let days = days.map(|day| {
        Ok(LoopDay {
            day: Count::of(f64::from(day))?,
            highest: of(&transient.highest, day)?,
            recycled: if recycles { of(&transient.recycled, day)? } else { Properties::default() },
        })
    });
    days.collect()
}
