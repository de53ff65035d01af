//! The answer in a sentence: how much to recycle, and what holds it there.

use super::{BindingLimit, FluidLoop, FluidLoopAnswer, LimitSide, RecyclingVerdict};
use crate::fluid::properties::{Properties, TRAMP_OIL, spoken};
use crate::quantity::{Measure, Quantity, Share};
use crate::sentence;
use crate::text::Sentence;

impl FluidLoop {
    pub(super) fn stated(&self, answer: &FluidLoopAnswer) -> Sentence {
        let limited = self.kept().limits.names().next().is_some();
        let limit = &answer.recycling_limit;
        match (limit.verdict, &answer.held_by) {
            (RecyclingVerdict::Held, Some(by)) => self.held(limit.share, by),
            (RecyclingVerdict::None, Some(by)) => sentence!(
                "No share recycled keeps every limit. Start with {} in the {}: it has to stay {}.",
                spoken(&by.property),
                &by.group,
                within(by)
            ),
            (RecyclingVerdict::NoRecycler, Some(by)) => sentence!(
                "None of the fluid is recycled, and still {} in the {} {}.",
                spoken(&by.property),
                &by.group,
                passes(by)
            ),
            (RecyclingVerdict::NoRecycler, None) if limited => sentence!(
                "Every property settles within its limits, and none of the fluid is recycled. {}",
                in_a_year(answer)
            ),
            (RecyclingVerdict::NoRecycler, None) => {
                sentence!("None of the fluid is recycled. {}", in_a_year(answer))
            }
            (RecyclingVerdict::All, Some(_)) => sentence!(
                "All of the returned fluid may be recycled as long as {} of what the recycler \
                 gives is discarded. {}",
                answer.purge.share.roughly(),
                in_a_year(answer)
            ),
            _ if limited => sentence!(
                "All of the returned fluid may be recycled: every property stays within its \
                 limits. {}",
                in_a_year(answer)
            ),
            _ => sentence!(
                "All of the returned fluid may be recycled, as no limit was given. {}",
                in_a_year(answer)
            ),
        }
    }

    fn held(&self, share: Option<Share>, by: &BindingLimit) -> Sentence {
        let most = at_most(share.map_or(0.0, Quantity::get));
        let fed = self.recycler.as_ref().and_then(|r| r.share).map_or(100.0, Quantity::get);
        let now = Share::measure_of(fed).rounded(3);
        let reached = sentence!("{} in the {} {}", spoken(&by.property), &by.group, passes(by));
        if share.is_some_and(|share| share.get() < fed) {
            return sentence!("Recycle at most {} instead of {}: above it {}.", most, now, reached);
        }
        sentence!("Recycle at most {} (now {}): above it {}.", most, now, reached)
    }
}

/// A share that is not to be passed, in whole per cent where that is near enough: never
/// more than it is.
pub(super) fn at_most(per_cent: f64) -> Measure {
    /// From here on a whole per cent is near enough.
    const WHOLE_FROM: f64 = 10.0;
    let steps = if per_cent >= WHOLE_FROM { 1.0 } else { 100.0 };
    Share::measure_of((per_cent * steps).floor() / steps)
}

fn passes(by: &BindingLimit) -> Sentence {
    let limit = measure(by);
    match by.side {
        LimitSide::Max => sentence!("passes {}", limit),
        LimitSide::Min => sentence!("falls below {}", limit),
    }
}

fn within(by: &BindingLimit) -> Sentence {
    let limit = measure(by);
    match by.side {
        LimitSide::Max => sentence!("below {}", limit),
        LimitSide::Min => sentence!("above {}", limit),
    }
}

fn measure(by: &BindingLimit) -> Measure {
    let Properties { tramp_oil, matter } = &by.limit;
    let matter = matter.get(by.property.as_str()).map(|content| content.measure());
    let oil = tramp_oil.filter(|_| by.property == TRAMP_OIL).map(Quantity::measure);
    oil.or(matter).unwrap_or(Measure::bare(0.0))
}

fn in_a_year(answer: &FluidLoopAnswer) -> Sentence {
    let year = &answer.per_year;
    sentence!(
        "A year takes {} of concentrate and disposes of {}.",
        year.concentrate.roughly(),
        year.disposed.roughly()
    )
}
