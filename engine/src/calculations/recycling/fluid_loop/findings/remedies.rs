//! What would let the shop go on as asked, and what it could do with its fluid.

use super::limit_in_words;
use crate::calculations::recycling::fluid_loop::excess::Excess;
use crate::calculations::recycling::fluid_loop::limit::{DeionisedReach, RecyclingReach};
use crate::calculations::recycling::fluid_loop::shop::LoopShop;
use crate::calculations::recycling::fluid_loop::steady::SteadyLoop;
use crate::calculations::recycling::fluid_loop::{FluidLoopAnswer, LoopPurge};
use crate::fluid::properties::spoken;
use crate::quantity::{Days, Measure, Quantity, Ratio, Share, Volume};
use crate::sentence;
use crate::text::{Finding, Sentence};

/// What has to be discarded.
pub(super) fn purge(answer: &FluidLoopAnswer, reach: &RecyclingReach) -> Option<Finding> {
    let needed = answer.purge.needed.filter(|needed| needed.get() > answer.purge.share.get())?;
    let RecyclingReach::Held { .. } = reach else { return None };
    let text = sentence!(
        "To go on feeding the recycler as now, discard at least {} of what it gives and replace \
         it with fresh fluid: {}.",
        at_least(needed),
        answer.purge.needed_per_day.map_or_else(|| Volume::measure_of(0.0), Quantity::roughly)
    );
    Some(Finding::note("discard-to-go-on", "/purge", text))
}

/// What deionised water can do instead.
pub(super) fn deionised(
    shop: &LoopShop,
    purge: &LoopPurge,
    reach: &DeionisedReach,
) -> Option<Finding> {
    const AT: &str = "/water/deionised/share";
    let now = Share::measure_of_fraction(shop.deionised).rounded(3);
    match purge.deionised_needed {
        Some(share) if share.get() > 0.0 => {
            let text = sentence!(
                "Deionised water keeps every limit with no more discarded than now: it has to be \
                 at least {} of the water (now {}).",
                at_least(share),
                now
            );
            Some(Finding::note("deionised-water-would-do", AT, text))
        }
        // The two that conflict are a finding of their own.
        None if reach.conflict.is_none() => {
            let text = sentence!(
                "As asked, not even deionised water alone keeps every limit: what passes its \
                 limit does not come with the water."
            );
            Some(Finding::note("deionised-water-is-not-enough", AT, text))
        }
        _ => None,
    }
}

/// How long the fluid may live.
pub(super) fn life(steady: &SteadyLoop<'_>, life: Option<&(f64, Excess)>) -> Option<Finding> {
    let (times, by) = life?;
    let (shop, name) = (steady.shop, spoken(steady.shop.name(by.p)));
    let group = shop.group_name(by.g);
    // Whole days, as clean-outs are planned; the shorter of two is on the safe side.
    let interval = shop.groups[by.g].t.map(|t| (t, (t * times).floor().max(1.0)));
    let pointer = match interval {
        Some(_) => format!("/groups/{}/clean_out", by.g),
        None => format!("/groups/{}", by.g),
    };
    let in_days = |days: f64| Days::measure_of(days).rounded(4);
    if *times < 1.0 {
        let text = if let Some((t, shorter)) = interval.filter(|(t, shorter)| shorter < t) {
            sentence!(
                "To keep {} within its limit everywhere, clean out {} (the {} every {} instead of \
                 every {}).",
                name,
                how_often(*times),
                group,
                in_days(shorter),
                in_days(t)
            )
        } else {
            sentence!(
                "To keep {} in the {} within its limit, clean out {} all over the shop.",
                name,
                group,
                how_often(*times)
            )
        };
        return Some(Finding::act("clean-out-more-often", pointer, text));
    }
    let held = sentence!("{} in the {}", limit_in_words(shop, by), group);
    let text = match interval {
        Some((t, longer)) if longer > t => sentence!(
            "Clean-outs may be {} (the {} every {} instead of every {}) before the limit of {} is \
             passed.",
            how_far(*times),
            group,
            in_days(longer),
            in_days(t),
            held
        ),
        Some(_) => no_longer(held),
        None => sentence!(
            "Clean-outs may be {} before the limit of {} is passed.",
            how_far(*times),
            held
        ),
    };
    Some(Finding::note("longest-clean-out-interval", pointer, text))
}

/// Fewer times than this are not worth a number.
const SLIGHTLY: f64 = 1.1;

/// How much more often to clean out when intervals are to be `times` as long.
fn how_often(times: f64) -> Sentence {
    let often = times.recip();
    if often < SLIGHTLY {
        return sentence!("slightly more often");
    }
    sentence!("about {} times as often", Ratio::measure_of(often).rounded(2))
}

/// How much further apart clean-outs may be when intervals may be `times` as long: to a
/// tenth, and no more than it is.
fn how_far(times: f64) -> Sentence {
    if times < SLIGHTLY {
        return sentence!("slightly further apart");
    }
    let times = Ratio::measure_of((times * 10.0).floor() / 10.0);
    sentence!("up to {} times as far apart", times)
}

/// A share that is needed, to a tenth of a per cent: never less than it is.
fn at_least(share: Share) -> Measure {
    Share::measure_of((share.get() * 10.0).ceil() / 10.0)
}

fn no_longer(held: Sentence) -> Sentence {
    sentence!("Clean-outs may not be further apart: the limit of {} would be passed.", held)
}

/// Recycled fluid that no sump has room for.
pub(super) fn surplus(surplus: Volume) -> Option<Finding> {
    if surplus.get() <= 0.0 {
        return None;
    }
    let text = sentence!(
        "In a year {} of recycled fluid is left over and disposed of: it is too strong or too \
         weak for the sumps that may take it. Let more groups take it, for topping up as well, or \
         recycle fluids of like strength together.",
        surplus.roughly()
    );
    Some(Finding::watch("recycled-fluid-left-over", "/groups", text))
}
