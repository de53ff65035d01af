//! What went into the sump and what left it, over the days looked ahead.

use super::plan::Planned;
use crate::dynamics::{Amounts, Course};
use crate::fluid::Fluid;
use crate::fluid::balance::{Balance, StreamDirection};
use crate::text::Refusal;

/// The tally of the way against what is in the sump at the end: two formulas.
pub(super) fn balance(planned: &Planned, course: &Course) -> Result<Balance, Refusal> {
    let tally = &course.tally;
    let mut streams = vec![("sump before", StreamDirection::In, planned.plan.start.clone())];
    if let Some(feed) = &planned.feed {
        let poured = |litre: &Amounts, litres| {
            let mut amounts = litre.clone();
            amounts.keep(litres);
            amounts
        };
        let weak = if feed.target.is_some() { "water" } else { "premix" };
        let steadily = planned.steadily(course.day);
        let weak_litres = tally.weak + steadily.weak;
        let strong_litres = tally.strong + steadily.strong;
        streams.push((weak, StreamDirection::In, poured(&feed.weak, weak_litres)));
        streams.push(("concentrate", StreamDirection::In, poured(&feed.strong, strong_litres)));
    }
    streams.extend([
        ("added", StreamDirection::In, tally.added.clone()),
        ("oil leaked in", StreamDirection::In, tally.leaked.clone()),
        ("evaporated", StreamDirection::Out, tally.evaporated.clone()),
        ("carried off", StreamDirection::Out, tally.carried_off.clone()),
        ("discharged", StreamDirection::Out, tally.discharged.clone()),
        ("skimmed oil", StreamDirection::Out, tally.skimmed.clone()),
        ("removed", StreamDirection::Out, tally.removed.clone()),
    ]);
    streams.retain(|(_, _, amounts)| amounts.volume() > 0.0);
    streams.push(("sump after", StreamDirection::Stays, course.sump.clone()));
    let fluids: Vec<(&str, StreamDirection, Fluid)> = streams
        .into_iter()
        .map(|(name, way, amounts)| {
            (name, way, amounts.fluid(&planned.names, planned.oil_followed, planned.densities))
        })
        .collect();
    let rows: Vec<_> = fluids.iter().map(|(name, way, fluid)| (*name, *way, fluid)).collect();
    Balance::close(&rows)
}
