//! The settled loop and its limits, wrapped as the answer.

use super::answer::{
    FluidLoopAnswer, GroupSettled, HeldBy, LoopDay, MakeUpFlow, MatterSettles, OilSettles, Purge,
    RecyclingLimit, RefillMix, Settles, Verdict,
};
use super::ledger::Ledger;
use super::limit::{self, Over, Reach};
use super::shop::{OIL, Shop};
use super::steady::{Levers, Steady};
use super::way::Way;
use super::words;
use crate::properties::{ByProperty, Properties};
use crate::quantity::{
    Concentration, Content, Count, DailyRate, Days, Quantity, Ratio, Share, Volume,
};
use crate::refusal::Refusal;

/// How far each lever reaches.
pub(super) struct Reaches {
    pub(super) back: Reach,
    pub(super) deionised: Option<f64>,
    pub(super) life: Option<(f64, Over)>,
}

pub(super) fn answer(
    steady: &Steady<'_>,
    ledger: &Ledger<'_>,
    way: &Way,
    levers: Levers,
) -> Result<FluidLoopAnswer, Refusal> {
    let (shop, exchange) = (steady.shop, steady.exchange);
    let reaches = Reaches {
        back: limit::greatest_back(shop, exchange, levers.deionised),
        deionised: limit::least_deionised(shop, exchange, levers.back),
        life: limit::longest_life(shop, levers),
    };
    let settles_at = settles(steady, way)?;
    let recycling_limit = recycling_limit(steady, levers, &reaches)?;
    let held_by = match &reaches.back {
        Reach::Held { by, .. } | Reach::None { by } | Reach::NoRecycler { by: Some(by) } => {
            Some(held_by(shop, by)?)
        }
        Reach::All | Reach::NoRecycler { by: None } => None,
    };
    let purge = purge(shop, ledger, &reaches)?;
    let yearly = ledger.yearly()?;
    let groups = groups(steady)?;
    let mut answer = FluidLoopAnswer {
        settles_at,
        cycles: Ratio::of(ledger.cycles())?,
        share_recycled: percent(ledger.share_recycled())?,
        recycling_limit,
        held_by,
        purge,
        yearly,
        groups,
        explanation: vec![],
        series: series(steady, way)?,
    };
    answer.explanation = words::explain(steady, &answer, &reaches)?;
    Ok(answer)
}

/// A share from 0 to 1 as the wire has it, rid of what rounding adds.
fn percent(share: f64) -> Result<Share, Refusal> {
    Share::of((share * 100.0).clamp(0.0, 100.0))
}

/// What the worst and the best sump and the mean of all carry of a property.
struct Spread {
    highest: (f64, usize),
    lowest: f64,
    mean: f64,
}

fn spread(steady: &Steady<'_>, p: usize) -> Spread {
    let mut spread = Spread { highest: (f64::NEG_INFINITY, 0), lowest: f64::INFINITY, mean: 0.0 };
    let mut volume = 0.0;
    for (g, group) in steady.shop.groups.iter().enumerate() {
        let (refilled, oldest) = steady.contents(p, g);
        let (low, high) = (refilled.min(oldest), refilled.max(oldest));
        if high > spread.highest.0 {
            spread.highest = (high, g);
        }
        spread.lowest = spread.lowest.min(low);
        volume += group.n * group.v;
        spread.mean += group.n * group.v * steady.mean(p, g);
    }
    spread.mean /= volume;
    spread
}

fn settles(steady: &Steady<'_>, way: &Way) -> Result<Settles, Refusal> {
    let shop = steady.shop;
    let recycled = steady.recycled();
    let overs = limit::overs(steady);
    let in_limits = |p: usize| {
        let mut own = overs.iter().filter(|over| over.p == p).peekable();
        own.peek().is_some().then(|| own.all(|over| over.by <= 0.0))
    };
    let passes = |p: usize| {
        let max = shop.limits[p].1?;
        way.highest[p].iter().zip(0_u32..).find(|(s, _)| **s > max).map(|(_, day)| f64::from(day))
    };
    let name = |g: usize| shop.group_name(g).to_owned();
    let mut settles = ByProperty::default();
    if shop.oil {
        let spread = spread(steady, OIL);
        let share = |o: f64| Concentration::of(o * 100.0);
        settles.tramp_oil = Some(OilSettles {
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
        let spread = spread(steady, p);
        let matter = MatterSettles {
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

fn held_by(shop: &Shop, over: &Over) -> Result<HeldBy, Refusal> {
    Ok(HeldBy {
        property: shop.name(over.p).to_owned(),
        group: shop.group_name(over.g).to_owned(),
        side: over.side,
        limit: shop.one(over.p, over.limit)?,
    })
}

fn recycling_limit(
    steady: &Steady<'_>,
    levers: Levers,
    reaches: &Reaches,
) -> Result<RecyclingLimit, Refusal> {
    let (shop, exchange) = (steady.shop, steady.exchange);
    let (verdict, share) = match reaches.back {
        Reach::None { .. } => (Verdict::None, None),
        Reach::NoRecycler { .. } => (Verdict::NoRecycler, None),
        // What is fed is counted before the purge that was asked for.
        Reach::Held { back, .. } if back < 1.0 - shop.purge => {
            (Verdict::Held, Some(back / (1.0 - shop.purge)))
        }
        Reach::All | Reach::Held { .. } => (Verdict::All, Some(1.0)),
    };
    let mut limit = RecyclingLimit {
        verdict,
        share: share.map(percent).transpose()?,
        share_recycled: None,
        at_limit: None,
        longest_life: reaches.life.map(|(life, _)| Ratio::of(life)).transpose()?,
        life_held_by: reaches.life.map(|(_, over)| held_by(shop, &over)).transpose()?,
    };
    if let Some(share) = share {
        let back = share * (1.0 - shop.purge);
        let at_limit = Steady::of(shop, exchange, Levers { back, ..levers });
        if at_limit.endless.is_none() {
            let drained: f64 = exchange.cycles.iter().map(|cycle| cycle.drained).sum();
            let back = if drained > 0.0 { at_limit.reused() / drained } else { 0.0 };
            limit.share_recycled = Some(percent(back)?);
            limit.at_limit = Some(worst_of_each(&at_limit)?).filter(|worst| !worst.is_empty());
        }
    }
    Ok(limit)
}

/// The most that any sump comes to of each property that has a limit: the
/// least where only that is limited.
fn worst_of_each(steady: &Steady<'_>) -> Result<Properties, Refusal> {
    let shop = steady.shop;
    let mut worst = Properties::default();
    for (p, (min, max)) in shop.limits.iter().enumerate() {
        if min.is_none() && max.is_none() {
            continue;
        }
        let spread = spread(steady, p);
        let content = if max.is_some() { spread.highest.0 } else { spread.lowest };
        let one = shop.one(p, content)?;
        worst.tramp_oil = worst.tramp_oil.or(one.tramp_oil);
        worst.matter.extend(one.matter);
    }
    Ok(worst)
}

fn purge(shop: &Shop, ledger: &Ledger<'_>, reaches: &Reaches) -> Result<Purge, Refusal> {
    let needed = match reaches.back {
        Reach::Held { back, .. } if shop.fed > 0.0 => Some((1.0 - back / shop.fed).max(0.0)),
        Reach::All | Reach::Held { .. } => Some(0.0),
        Reach::None { .. } | Reach::NoRecycler { .. } => None,
    };
    Ok(Purge {
        share: percent(shop.purge)?,
        needed: needed.map(percent).transpose()?,
        needed_rate: needed.map(|share| DailyRate::of(share * ledger.recovered())).transpose()?,
        deionised_needed: reaches.deionised.map(percent).transpose()?,
    })
}

fn groups(steady: &Steady<'_>) -> Result<Vec<GroupSettled>, Refusal> {
    let shop = steady.shop;
    let cycles = steady.cycles().unwrap_or_default();
    let given = steady.given.c + steady.given.rest;
    let all = shop.groups.iter().enumerate().map(|(g, group)| {
        let contents: Vec<_> = (0..shop.properties()).map(|p| steady.contents(p, g)).collect();
        let refilled: Vec<f64> = contents.iter().map(|both| both.0).collect();
        let oldest: Vec<f64> = contents.iter().map(|both| both.1).collect();
        let make_up = group.m_c + group.m_w;
        let strength = if make_up > 0.0 { group.m_c / make_up * 100.0 } else { 0.0 };
        let mix = &steady.mixes[g];
        let refill = group.t.map(|t| {
            let one = |rate: f64| Volume::of(rate * t / group.n);
            let (recycled, concentrate) = (one(mix.chi * given)?, one(mix.y)?);
            Ok::<_, Refusal>(RefillMix { recycled, concentrate, water: one(mix.w)? })
        });
        Ok(GroupSettled {
            name: shop.group_name(g).to_owned(),
            cycles: Ratio::of(cycles.get(g).copied().unwrap_or(f64::INFINITY))?,
            make_up: MakeUpFlow {
                recycled: DailyRate::of(mix.chi_m * given / group.n)?,
                concentrate: DailyRate::of(mix.m_c)?,
                water: DailyRate::of(mix.m_w)?,
                concentration: Concentration::of(strength.clamp(0.0, 100.0))?,
            },
            refill: refill.transpose()?,
            oldest: shop.named(&oldest)?,
            refilled: shop.named(&refilled)?,
        })
    });
    all.collect()
}

fn series(steady: &Steady<'_>, way: &Way) -> Result<Vec<LoopDay>, Refusal> {
    let shop = steady.shop;
    let recycles = steady.given.c + steady.given.rest > 0.0;
    let days = (0_u32..).zip(&way.highest[OIL]).map(|(day, _)| day);
    let of = |contents: &[Vec<f64>], day: u32| {
        let day = day as usize;
        let on_day: Vec<f64> = contents.iter().map(|way| way[day]).collect();
        shop.named(&on_day)
    };
    let days = days.map(|day| {
        Ok(LoopDay {
            day: Count::of(f64::from(day))?,
            highest: of(&way.highest, day)?,
            recycled: if recycles { of(&way.recycled, day)? } else { Properties::default() },
        })
    });
    days.collect()
}
