//! What went into the sump and what left it, over the days looked ahead.

use super::plan::Planned;
use crate::dynamics::{Amounts, Course};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, Way};
use crate::text::Refusal;

/// The tally of the way against what is in the sump at the end: two formulas.
pub(super) fn balance(planned: &Planned, course: &Course) -> Result<Balance, Refusal> {
    let tally = &course.tally;
    let mut streams = vec![("sump before", Way::In, planned.plan.start.clone())];
    if let Some(feed) = &planned.feed {
        let poured = |litre: &Amounts, litres| {
            let mut amounts = litre.clone();
            amounts.keep(litres);
            amounts
        };
        let weak = if feed.target.is_some() { "water" } else { "premix" };
        let days = course.day;
        let weak_litres = tally.weak + planned.steady.weak * days;
        let strong_litres = tally.strong + planned.steady.strong * days;
        streams.push((weak, Way::In, poured(&feed.weak, weak_litres)));
        streams.push(("concentrate", Way::In, poured(&feed.strong, strong_litres)));
    }
    streams.extend([
        ("added", Way::In, tally.added.clone()),
        ("oil leaked in", Way::In, tally.leaked.clone()),
        ("evaporated", Way::Out, tally.evaporated.clone()),
        ("carried off", Way::Out, tally.carried_off.clone()),
        ("discharged", Way::Out, tally.discharged.clone()),
        ("skimmed oil", Way::Out, tally.skimmed.clone()),
        ("removed", Way::Out, tally.removed.clone()),
    ]);
    streams.retain(|(_, _, amounts)| amounts.volume() > 0.0);
    streams.push(("sump after", Way::Stays, course.sump.clone()));
    let fluids: Vec<(&str, Way, Fluid)> = streams
        .into_iter()
        .map(|(name, way, amounts)| {
            (name, way, amounts.fluid(&planned.names, planned.oil_followed, planned.densities))
        })
        .collect();
    let rows: Vec<_> = fluids.iter().map(|(name, way, fluid)| (*name, *way, fluid)).collect();
    Balance::close(&rows)
}
