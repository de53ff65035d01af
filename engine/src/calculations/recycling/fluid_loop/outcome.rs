//! The settled loop and its limits, wrapped as the answer.

use super::answer::{FluidLoopAnswer, HeldBy, Purge, RecyclingLimit, Verdict};
use super::ledger::Ledger;
use super::limit::{Over, Reach};
use super::settled::{groups, series, settles, spreads};
use super::shop::Shop;
use super::steady::{Levers, Steady};
use super::way::Way;
use super::{limit, words};
use crate::fluid::properties::Properties;
use crate::numerics::cut_off;
use crate::quantity::{DailyRate, Quantity, Ratio, Share};
use crate::text::Refusal;

/// From so many groups on the levers are searched side by side; below that a
/// thread costs more than it saves.
const MANY_GROUPS: usize = 1000;

/// How far each lever reaches.
pub(super) struct Reaches {
    pub(super) back: Reach,
    pub(super) deionised: limit::Deionised,
    pub(super) life: Option<(f64, Over)>,
}

/// The searches know nothing of each other.
fn reaches(steady: &Steady<'_>, levers: Levers) -> Reaches {
    let (shop, exchange) = (steady.shop, steady.exchange);
    let back = || limit::greatest_back(shop, exchange, levers);
    let deionised = || limit::least_deionised(shop, exchange, levers);
    let life = || limit::longest_life(shop, exchange, levers);
    if shop.groups.len() < MANY_GROUPS {
        return Reaches { back: back(), deionised: deionised(), life: life() };
    }
    std::thread::scope(|scope| {
        let flag = cut_off::flag();
        let others = scope.spawn(|| cut_off::under(flag, || (back(), deionised())));
        let life = life();
        let (back, deionised) =
            others.join().unwrap_or_else(|panic| std::panic::resume_unwind(panic));
        Reaches { back, deionised, life }
    })
}

pub(super) fn answer(
    steady: &Steady<'_>,
    ledger: &Ledger<'_>,
    way: &Way,
    levers: Levers,
) -> Result<(FluidLoopAnswer, limit::Deionised), Refusal> {
    let shop = steady.shop;
    let reaches = reaches(steady, levers);
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
    Ok((answer, reaches.deionised))
}

/// A share from 0 to 1 as the wire has it, rid of what rounding adds.
fn percent(share: f64) -> Result<Share, Refusal> {
    Ok(Share::of((share * 100.0).clamp(0.0, 100.0))?)
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
    let spreads = spreads(steady);
    for (p, (min, max)) in shop.limits.iter().enumerate() {
        if min.is_none() && max.is_none() {
            continue;
        }
        let spread = &spreads[p];
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
        deionised_needed: reaches.deionised.share.map(percent).transpose()?,
    })
}
