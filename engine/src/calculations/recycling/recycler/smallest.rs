//! The smallest tanks and the smallest throughput that carry the plan.
//!
//! A larger dirty tank changes nothing before it runs over, so the highest level
//! of one without end is the smallest that does. A larger clean tank lets the
//! recycler work ahead, and a larger throughput empties the dirty tank and fills
//! the clean one earlier; neither is ever worse, so that the smallest is where
//! failing turns into not failing.

use super::levels::Setup;
use super::plan::RecyclerPlan;
use super::{Recycler, SmallestPlant};
use crate::quantity::{Quantity, Throughput, Volume};
use crate::text::Refusal;

/// The smallest of each, the others being as they are. `flow` is what goes
/// through the stages now, L/h.
pub(super) fn smallest(
    question: &Recycler,
    plan: &RecyclerPlan,
    setup: &Setup,
    flow: f64,
) -> Result<SmallestPlant, Refusal> {
    let throughput = if question.tanks.is_some() && question.sources.is_none() {
        rate(plan, setup).map(|rate| Throughput::of(rate / setup.rate * flow)).transpose()?
    } else {
        None
    };
    Ok(SmallestPlant {
        dirty: Volume::of(dirty(plan, setup, None))?,
        clean: clean(plan, setup).map(Volume::of).transpose()?,
        throughput,
    })
}

/// The smallest dirty tank that never runs over, L.
pub(super) fn dirty(plan: &RecyclerPlan, setup: &Setup, factors: Option<&[f64]>) -> f64 {
    let endless = Setup { dirty: f64::INFINITY, ..*setup };
    plan.walk(&endless, factors, false).highest_dirty
}

/// The smallest clean tank that never has too little, L.
fn clean(plan: &RecyclerPlan, setup: &Setup) -> Option<f64> {
    let suffices = |clean: f64| {
        let tanks = Setup { dirty: f64::INFINITY, clean, ..*setup };
        plan.walk(&tanks, None, false).first_shortage.is_none()
    };
    if !suffices(f64::INFINITY) {
        return None;
    }
    let mut most = setup.clean_level.max(1.0);
    while !suffices(most) {
        most *= 2.0;
    }
    Some(turning_point(setup.clean_level, most, suffices))
}

/// The smallest rate with which neither tank fails, L/day.
fn rate(plan: &RecyclerPlan, setup: &Setup) -> Option<f64> {
    let suffices = |rate: f64| {
        let walked = plan.walk(&Setup { rate, ..*setup }, None, false);
        walked.first_overflow.is_none() && walked.first_shortage.is_none()
    };
    /// A recycler that is so many times faster than the one there is works
    /// everything at once.
    const AT_ONCE: f64 = 1e9;
    let at_once = setup.rate * AT_ONCE;
    if !suffices(at_once) {
        return None;
    }
    let mut most = setup.rate.min(at_once);
    while !suffices(most) {
        most *= 2.0;
    }
    Some(turning_point(0.0, most, suffices))
}

/// Where failing turns into not failing between `low` and `high`, which does
/// not fail: to the last digits.
fn turning_point(low: f64, high: f64, suffices: impl Fn(f64) -> bool) -> f64 {
    if suffices(low) {
        return low;
    }
    let (mut low, mut high) = (low, high);
    loop {
        let middle = low.midpoint(high);
        if middle <= low || middle >= high {
            return high;
        }
        if suffices(middle) {
            high = middle;
        } else {
            low = middle;
        }
    }
}
