//! What to look at before a loop is closed.

use super::limit::Deionised;
use super::shop::Shop;
use super::{FluidLoop, FluidLoopAnswer, LimitSide};
use crate::fluid::practice;
use crate::fluid::properties::TRAMP_OIL;
use crate::quantity::{Concentration, Content, Measure, Quantity};
use crate::text::{Finding, Sentence};

impl FluidLoop {
    pub(super) fn findings(
        &self,
        shop: &Shop,
        answer: &FluidLoopAnswer,
        deionised: &Deionised,
    ) -> Vec<Finding> {
        let unusual = self.groups.iter().enumerate().filter_map(|(g, group)| {
            let pointer = format!("/groups/{g}/concentration");
            practice::unusual_strength(group.concentration, &pointer)
        });
        let mut findings = practice::few(unusual);
        findings.extend(conflict(shop, deionised));
        for (name, settles) in &answer.settles_at.matter {
            let limit = self.limits.matter.get(name);
            let pointer = if limit.is_some() {
                format!("/limits/{name}")
            } else {
                format!("/water/properties/{name}")
            };
            findings.extend(practice::nitrite(name, settles.highest, &pointer));
            findings.extend(practice::soft_water(name, settles.lowest, limit, &pointer));
        }
        let water = &self.water;
        findings.extend(practice::nitrate_in_water(&water.properties, "/water/properties"));
        findings
    }
}

/// Two limits that no share of deionised water keeps together.
fn conflict(shop: &Shop, deionised: &Deionised) -> Option<Finding> {
    let (wants, breaks) = deionised.conflict?;
    let text = "No share of deionised water keeps both limits: as much as {} {} {} needs takes {} \
                past {} {}.";
    let side = |side| if side == LimitSide::Max { "at most" } else { "at least" };
    let measure = |over: &super::limit::Over| {
        let of_oil = shop.name(over.p) == TRAMP_OIL;
        let row = if of_oil { Concentration::ROW } else { Content::ROW };
        Measure::of(row, if of_oil { over.limit * 100.0 } else { over.limit })
    };
    let text = Sentence::new(text)
        .say(shop.name(wants.p).to_owned())
        .say(side(wants.side))
        .with(measure(&wants))
        .say(shop.name(breaks.p).to_owned())
        .say(side(breaks.side))
        .with(measure(&breaks));
    let end = if breaks.side == LimitSide::Max { "max" } else { "min" };
    let pointer = format!("/limits/{}/{end}", shop.name(breaks.p));
    Some(Finding::watch("limits-conflict", pointer, text))
}
