//! What to look at before a loop is closed: its limit and why, what would lift it, and
//! what the trade asks of any fluid.

mod recycling;
mod remedies;

use super::excess::Excess;
use super::limit::{DeionisedReach, LeverReaches};
use super::shop::LoopShop;
use super::steady::SteadyLoop;
use super::{FluidLoop, FluidLoopAnswer, LimitSide};
use crate::fluid::hardness::HARDNESS;
use crate::fluid::practice;
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::sentence;
use crate::text::{Finding, Sentence};

impl FluidLoop {
    pub(super) fn findings(
        &self,
        steady: &SteadyLoop<'_>,
        answer: &FluidLoopAnswer,
        reaches: &LeverReaches,
    ) -> Vec<Finding> {
        let unusual = self.groups.iter().enumerate().filter_map(|(g, group)| {
            let pointer = format!("/groups/{g}/concentration");
            practice::unusual_strength(group.concentration, &pointer)
        });
        let mut findings = practice::few(unusual);
        findings.push(recycling::limit(steady, &reaches.back, &answer.recycling_limit));
        findings.extend(remedies::life(steady, reaches.life.as_ref()));
        findings.extend(conflict(steady.shop, &reaches.deionised));
        let kept = self.kept();
        for (name, settles) in &answer.settles_at.matter {
            let limit = kept.of(name);
            let pointer = if self.limits.matter.contains_key(name) {
                format!("/limits/{name}")
            } else if name == HARDNESS && self.water.hardness.is_some() {
                "/water/hardness".to_owned()
            } else {
                format!("/water/properties/{name}")
            };
            findings.extend(practice::nitrite(name, settles.highest, &pointer));
            findings.extend(practice::soft_water(name, settles.lowest, limit, &pointer));
        }
        let water = &self.water;
        findings.extend(practice::nitrate_in_water(&water.properties, "/water/properties"));
        let used = |name: &str| match name {
            "nitrite" => steady.shop.names.iter().any(|name| practice::is_nitrite(name)),
            TRAMP_OIL => steady.shop.oil,
            _ => false,
        };
        findings.extend(self.sheet.iter().flat_map(|sheet| sheet.laxer("/sheet", used)));
        findings.extend(remedies::surplus(answer.per_year.surplus));
        findings.extend(recycling::removal(steady, &reaches.back));
        findings.extend(remedies::purge(answer, &reaches.back));
        findings.extend(remedies::deionised(steady.shop, &answer.purge, &reaches.deionised));
        findings.extend(recycling::why_it_rises(answer));
        findings
    }
}

/// A limit as a person says it: "at most 190 mg/L of chloride".
fn limit_in_words(shop: &LoopShop, of: &Excess) -> Sentence {
    let (measure, name) = (of.limit_measure(), spoken(shop.name(of.p)));
    match of.side {
        LimitSide::Max => sentence!("at most {} of {}", measure, name),
        LimitSide::Min => sentence!("at least {} of {}", measure, name),
    }
}

/// Where a limit stands in the request.
fn at_limit(shop: &LoopShop, of: &Excess) -> String {
    let [min, max] = &shop.limit_places[of.p];
    if of.side == LimitSide::Max { max.clone() } else { min.clone() }
}

/// Two limits that no share of deionised water keeps together.
fn conflict(shop: &LoopShop, deionised: &DeionisedReach) -> Option<Finding> {
    let (wants, breaks) = deionised.conflict?;
    let text = sentence!(
        "No share of deionised water keeps both limits, {} and {}: what the first needs breaks \
         the second.",
        limit_in_words(shop, &wants),
        limit_in_words(shop, &breaks)
    );
    Some(Finding::watch("limits-conflict", at_limit(shop, &breaks), text))
}
