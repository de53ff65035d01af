//! What the stages cannot bring to its limit, and why: the fluid can then be thinned with
//! fresh fluid, and no more.

use crate::calculations::recycling::recycler::limited::Limited;
use crate::calculations::recycling::recycler::treatment::Treatment;
use crate::calculations::recycling::recycler::{BacteriaBand, TreatedBacteria};
use crate::fluid::practice::{self, NITRITE_AT_MOST, POOR_FROM};
use crate::fluid::properties::spoken;
use crate::quantity::{BacterialCount, Content, Quantity};
use crate::sentence;
use crate::text::Finding;

/// Every property that stays over its limit, nitrite over the published one, and bacteria
/// over the published band.
pub(super) fn findings(
    treatment: &Treatment<'_>,
    bacteria: Option<TreatedBacteria>,
) -> Vec<Finding> {
    let over = treatment.limited.iter().filter(|limited| !treatment.can_reach(limited));
    let mut findings: Vec<Finding> = over.map(|limited| stays(limited, treatment)).collect();
    for nitrite in treatment.held_to(practice::is_nitrite, NITRITE_AT_MOST) {
        let told = treatment.limited.iter().filter(|limited| !treatment.can_reach(limited));
        let told = told.into_iter().any(|told| told.name == nitrite.name);
        let left = treatment.content(&nitrite, treatment.passes);
        if !told && left > NITRITE_AT_MOST {
            findings.push(nitrite_stays(&nitrite, left));
        }
    }
    findings.extend(bacteria.and_then(bacteria_stay));
    findings
}

/// Why a property stays over the limit that the request sets, with what is left of it.
fn stays(limited: &Limited, treatment: &Treatment<'_>) -> Finding {
    let name = spoken(&limited.name);
    let left = limited.measure(treatment.content(limited, treatment.passes)).rounded(3);
    let most = limited.measure(limited.most);
    let pointer = format!("/target/limits/{}/max", limited.name);
    match limited.place {
        None if treatment.frees_of_oil() => {
            let text = sentence!(
                "{} comes down to {} and no further, where at most {} is wanted: emulsified oil \
                 does not rise, and no stage takes it out of the fluid. Only thinning with fresh \
                 fluid brings it down; beyond that the fluid is at its end.",
                name,
                left,
                most
            );
            Finding::watch("emulsified-oil-stays", pointer, text)
        }
        Some(i) if treatment.is_removed(i) => {
            let text = sentence!(
                "{} is left at {}, where at most {} is wanted: it comes in faster than the stages \
                 remove it at this limit. A larger throughput or a stage that removes more would \
                 do it.",
                name,
                left,
                most
            );
            Finding::watch("comes-in-too-fast", pointer, text)
        }
        _ => {
            let text = sentence!(
                "{} stays at {}, where at most {} is wanted: no stage removes it, and every round \
                 adds to what is dissolved. Only thinning with fresh fluid brings it down; beyond \
                 that the fluid has to be thrown away.",
                name,
                left,
                most
            );
            Finding::watch("no-stage-removes-it", pointer, text)
        }
    }
}

fn nitrite_stays(nitrite: &Limited, left: f64) -> Finding {
    let text = sentence!(
        "After the treatment {} stays at {}, above the {} from which TRGS 611 asks for measures, \
         whatever limit the request sets. Follow the rules that hold in your place.",
        &nitrite.name,
        nitrite.measure(left).rounded(3),
        Content::measure_of(NITRITE_AT_MOST)
    );
    Finding::act("nitrite-stays", format!("/feed/properties/{}", nitrite.name), text)
}

fn bacteria_stay(bacteria: TreatedBacteria) -> Option<Finding> {
    if bacteria.band != BacteriaBand::Poor {
        return None;
    }
    let text = sentence!(
        "After the treatment a dip slide still counts {}, in the band of poor control, from {} \
         on, in which the UK's HSE asks to act at once. Such fluid carries the bacteria into every \
         machine that is filled with it; find the cause before it is used again.",
        bacteria.count.measure().rounded(2),
        BacterialCount::measure_of(POOR_FROM)
    );
    Some(Finding::act("bacteria-stay", "/feed/dip_slide", text))
}
