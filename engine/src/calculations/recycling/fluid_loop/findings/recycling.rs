//! How far recycling can go, what holds it there, and why contents rise.

use super::{at_limit, limit_in_words};
use crate::calculations::recycling::fluid_loop::excess::{Excess, measure};
use crate::calculations::recycling::fluid_loop::limit::RecyclingReach;
use crate::calculations::recycling::fluid_loop::statement::at_most;
use crate::calculations::recycling::fluid_loop::steady::SteadyLoop;
use crate::calculations::recycling::fluid_loop::{
    FluidLoopAnswer, LimitSide, RecyclingLimit, RecyclingVerdict,
};
use crate::fluid::properties::spoken;
use crate::quantity::{Measure, Quantity, Share};
use crate::sentence;
use crate::text::{Finding, Sentence};

const FED: &str = "/recycler/share";

fn share(fraction: f64) -> Measure {
    Share::measure_of_fraction(fraction).rounded(3)
}

/// How far recycling can go, and what holds it there.
pub(super) fn limit(
    steady: &SteadyLoop<'_>,
    reach: &RecyclingReach,
    found: &RecyclingLimit,
) -> Finding {
    let shop = steady.shop;
    match reach {
        RecyclingReach::All if !shop.has_limits() => {
            let text = sentence!("No limit was given, so none holds recycling back.");
            Finding::note("no-limits-given", "/limits", text)
        }
        RecyclingReach::All => {
            let text = sentence!(
                "Every property settles within its limits even when all of the returned fluid \
                 goes through the recycler."
            );
            Finding::note("all-may-be-recycled", FED, text)
        }
        RecyclingReach::None { by } => {
            let text = sentence!(
                "No share recycled keeps every limit. As asked, {}. Look at the water, at what \
                 the work brings in, and at how long the fluid lives.",
                settles(steady, by)
            );
            Finding::act("no-share-keeps-the-limits", at_limit(shop, by), text)
        }
        RecyclingReach::NoRecycler { by: None } if !shop.has_limits() => {
            let text = sentence!("None of the fluid is recycled, and no limit was given.");
            Finding::note("not-recycled", "/recycler", text)
        }
        RecyclingReach::NoRecycler { by: None } => {
            let text = sentence!(
                "None of the fluid is recycled, and every property settles within its limits."
            );
            Finding::note("not-recycled", "/recycler", text)
        }
        RecyclingReach::NoRecycler { by: Some(by) } => {
            let text = sentence!(
                "None of the fluid is recycled, and still {}. Look at the water, at what the work \
                 brings in, and at how long the fluid lives.",
                settles(steady, by)
            );
            Finding::act("limit-passed-without-recycling", at_limit(shop, by), text)
        }
        RecyclingReach::Held { by, .. } => held(steady, by, found),
    }
}

fn held(steady: &SteadyLoop<'_>, by: &Excess, found: &RecyclingLimit) -> Finding {
    let shop = steady.shop;
    let share_at_most = found.share.map_or(0.0, Quantity::get);
    if found.verdict == RecyclingVerdict::All {
        let text = sentence!(
            "With {} of the recovered fluid discarded, all of the returned fluid may go through \
             the recycler. With less discarded, the limit of {} in the {} is passed first.",
            share(shop.purge),
            limit_in_words(shop, by),
            shop.group_name(by.g)
        );
        return Finding::note("purge-keeps-the-limits", "/purge", text);
    }
    if share_at_most < shop.fed * 100.0 {
        let text = sentence!(
            "Recycle at most {}; now it is {}, and {}. It stays there as long as no more of it \
             leaves the shop.",
            at_most(share_at_most),
            share(shop.fed),
            settles(steady, by)
        );
        return Finding::act("recycles-too-much", FED, text);
    }
    let text = sentence!(
        "At most {} may be recycled, and {} is recycled now: beyond it the limit of {} in the {} \
         is passed first.",
        at_most(share_at_most),
        share(shop.fed),
        limit_in_words(shop, by),
        shop.group_name(by.g)
    );
    Finding::note("recycling-limit", FED, text)
}

/// Where a property settles in the sump that binds, against its limit.
fn settles(steady: &SteadyLoop<'_>, by: &Excess) -> Sentence {
    let shop = steady.shop;
    let (refilled, oldest) = steady.sump(by.g).contents(by.p);
    let content = match by.side {
        LimitSide::Max => refilled.max(oldest),
        LimitSide::Min => refilled.min(oldest),
    };
    let allowed = match by.side {
        LimitSide::Max => sentence!("at most {} is allowed", by.limit_measure()),
        LimitSide::Min => sentence!("at least {} is wanted", by.limit_measure()),
    };
    sentence!(
        "{} in the {} settles at {}, where {}",
        spoken(shop.name(by.p)),
        shop.group_name(by.g),
        measure(by.p, content).rounded(3),
        allowed
    )
}

/// What the recycler does about the property that binds.
pub(super) fn removal(steady: &SteadyLoop<'_>, reach: &RecyclingReach) -> Option<Finding> {
    let RecyclingReach::Held { by, .. } = reach else { return None };
    if by.side == LimitSide::Min {
        return None;
    }
    let (shop, name) = (steady.shop, steady.shop.name(by.p));
    let taken_out = shop.r[by.p];
    let text = if taken_out > 0.0 {
        sentence!(
            "The recycler takes out {} of the {}; the rest comes back with every round.",
            share(taken_out),
            spoken(name)
        )
    } else {
        sentence!(
            "The recycler takes out none of the {}: it separates oil and solids, and what is \
             dissolved goes round until it leaves on chips, in what is lost, or in what is \
             discarded.",
            spoken(name)
        )
    };
    let code = if taken_out > 0.0 { "partly-taken-out" } else { "not-taken-out" };
    Some(Finding::note(code, format!("/recycler/removes/{name}"), text))
}

/// Why whatever is dissolved in the water piles up.
pub(super) fn why_it_rises(answer: &FluidLoopAnswer) -> Option<Finding> {
    let groups = answer.groups.iter().enumerate();
    let (g, most) = groups.max_by(|(_, a), (_, b)| a.cycles.get().total_cmp(&b.cycles.get()))?;
    let text = sentence!(
        "Only water goes to the air, and what was dissolved in it stays: just before a clean-out \
         a sump of the {} carries {} times as much salt as fresh fluid brings.",
        &most.name,
        most.cycles.roughly()
    );
    Some(Finding::note("salt-stays", format!("/groups/{g}/losses/evaporation"), text))
}
