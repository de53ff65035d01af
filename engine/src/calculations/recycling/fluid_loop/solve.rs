//! The settled loop and its limits, wrapped as the answer.

use super::answer::{BindingLimit, FluidLoopAnswer, LoopPurge, RecyclingLimit, RecyclingVerdict};
use super::excess::Excess;
use super::ledger::LoopLedger;
use super::limit::{LeverReaches, RecyclingReach};
use super::settled::{groups, series, settles, spreads};
use super::shop::LoopShop;
use super::steady::{LoopLevers, SteadyLoop};
use super::transient::LoopTransient;
use crate::fluid::properties::Properties;
use crate::quantity::{DailyRate, Quantity, Ratio, Share};
use crate::text::Refusal;

pub(super) fn answer(
    steady: &SteadyLoop<'_>,
    ledger: &LoopLedger<'_>,
    transient: &LoopTransient,
    levers: LoopLevers,
    reaches: &LeverReaches,
) -> Result<FluidLoopAnswer, Refusal> {
    let shop = steady.shop;
    let held_by = match &reaches.back {
        RecyclingReach::Held { by, .. }
        | RecyclingReach::None { by }
        | RecyclingReach::NoRecycler { by: Some(by) } => Some(held_by(shop, by)?),
        RecyclingReach::All | RecyclingReach::NoRecycler { by: None } => None,
    };
    Ok(FluidLoopAnswer {
        settles_at: settles(steady, transient)?,
        cycles: Ratio::of(ledger.cycles())?,
        share_recycled: share(ledger.share_recycled())?,
        recycling_limit: recycling_limit(steady, levers, reaches)?,
        held_by,
        purge: purge(shop, ledger, reaches)?,
        per_year: ledger.per_year()?,
        groups: groups(steady)?,
        series: series(steady, transient)?,
    })
}

/// A share from 0 to 1 as the wire has it, rid of what rounding adds.
fn share(fraction: f64) -> Result<Share, Refusal> {
    Ok(Share::of_fraction(fraction.clamp(0.0, 1.0))?)
}

fn held_by(shop: &LoopShop, by: &Excess) -> Result<BindingLimit, Refusal> {
    Ok(BindingLimit {
        property: shop.name(by.p).to_owned(),
        group: shop.group_name(by.g).to_owned(),
        side: by.side,
        limit: shop.one(by.p, by.limit)?,
    })
}

fn recycling_limit(
    steady: &SteadyLoop<'_>,
    levers: LoopLevers,
    reaches: &LeverReaches,
) -> Result<RecyclingLimit, Refusal> {
    let (shop, exchange) = (steady.shop, steady.exchange);
    let (verdict, fed) = match reaches.back {
        RecyclingReach::None { .. } => (RecyclingVerdict::None, None),
        RecyclingReach::NoRecycler { .. } => (RecyclingVerdict::NoRecycler, None),
        // What is fed is counted before the purge that was asked for.
        RecyclingReach::Held { back, .. } if back < 1.0 - shop.purge => {
            (RecyclingVerdict::Held, Some(back / (1.0 - shop.purge)))
        }
        RecyclingReach::All | RecyclingReach::Held { .. } => (RecyclingVerdict::All, Some(1.0)),
    };
    let mut limit = RecyclingLimit {
        verdict,
        share: fed.map(share).transpose()?,
        share_recycled: None,
        at_limit: None,
        longest_life: reaches.life.map(|(life, _)| Ratio::of(life)).transpose()?,
        life_held_by: reaches.life.map(|(_, by)| held_by(shop, &by)).transpose()?,
    };
    if let Some(fed) = fed {
        let back = fed * (1.0 - shop.purge);
        let at_limit = SteadyLoop::of(shop, exchange, LoopLevers { back, ..levers });
        if at_limit.endless.is_none() {
            let drained: f64 = exchange.cycles.iter().map(|cycle| cycle.drained).sum();
            let back = if drained > 0.0 { at_limit.reused() / drained } else { 0.0 };
            limit.share_recycled = Some(share(back)?);
            limit.at_limit = Some(worst_of_each(&at_limit)?).filter(|worst| !worst.is_empty());
        }
    }
    Ok(limit)
}

/// The most that any sump comes to of each property that has a limit: the
/// least where only that is limited.
fn worst_of_each(steady: &SteadyLoop<'_>) -> Result<Properties, Refusal> {
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

fn purge(
    shop: &LoopShop,
    ledger: &LoopLedger<'_>,
    reaches: &LeverReaches,
) -> Result<LoopPurge, Refusal> {
    let needed = match reaches.back {
        RecyclingReach::Held { back, .. } if shop.fed > 0.0 => {
            Some((1.0 - back / shop.fed).max(0.0))
        }
        RecyclingReach::All | RecyclingReach::Held { .. } => Some(0.0),
        RecyclingReach::None { .. } | RecyclingReach::NoRecycler { .. } => None,
    };
    let per_day = needed.map(|needed| DailyRate::of(needed * ledger.recovered()));
    Ok(LoopPurge {
        share: share(shop.purge)?,
        needed: needed.map(share).transpose()?,
        needed_per_day: per_day.transpose()?,
        deionised_needed: reaches.deionised.share.map(share).transpose()?,
    })
}
