//! What of the fluid cannot be recycled, and why.

use super::limits::Limited;
use super::treatment::Treatment;
use super::{Bacteria, BacteriaBand, Mode, NotRecyclable, Recycler, Settling, Why};
use crate::fluid::practice::{self, GOOD_BELOW, NITRITE_AT_MOST, POOR_FROM};
use crate::fluid::properties::Properties;
use crate::quantity::{BacterialCount, Concentration, Content, Hours, Quantity};
use crate::text::Refusal;
use std::collections::BTreeMap;

/// Every property that stays over its limit, with the reason, and microbes
/// over the published band.
pub(super) fn not_recyclable(
    question: &Recycler,
    treatment: &Treatment,
    n: f64,
) -> Result<Vec<NotRecyclable>, Refusal> {
    let mut found = Vec::new();
    let out_of_reach = treatment.limited.iter().filter(|limited| !treatment.can_reach(limited));
    for limited in out_of_reach {
        found.push(over_limit(limited, treatment, n, reason(limited, treatment))?);
    }
    for nitrite in treatment.held_to(practice::is_nitrite, NITRITE_AT_MOST) {
        let told = found.iter().any(|told| told.property == nitrite.name);
        if !told && treatment.content(&nitrite, n) > NITRITE_AT_MOST {
            found.push(over_limit(&nitrite, treatment, n, Why::AbovePublishedLimit)?);
        }
    }
    if bacteria(question, n)?.is_some_and(|bacteria| bacteria.band == BacteriaBand::Poor) {
        found.push(NotRecyclable {
            property: "bacteria".to_owned(),
            why: Why::Microbes,
            text: words(Why::Microbes).to_owned(),
            left: Properties::default(),
            most: Properties::default(),
        });
    }
    Ok(found)
}

fn reason(limited: &Limited, treatment: &Treatment) -> Why {
    match limited.place {
        None if treatment.frees_of_oil() => Why::Emulsified,
        Some(i) if treatment.is_removed(i) => Why::ComesInTooFast,
        _ => Why::NoStageRemovesIt,
    }
}

fn over_limit(
    limited: &Limited,
    treatment: &Treatment,
    n: f64,
    why: Why,
) -> Result<NotRecyclable, Refusal> {
    Ok(NotRecyclable {
        property: limited.name.clone(),
        why,
        text: words(why).to_owned(),
        left: of(limited, treatment.content(limited, n))?,
        most: of(limited, limited.most)?,
    })
}

/// One property by itself.
fn of(limited: &Limited, value: f64) -> Result<Properties, Refusal> {
    Ok(match limited.place {
        None => Properties { tramp_oil: Some(Concentration::of(value)?), ..Properties::default() },
        Some(_) => Properties {
            matter: BTreeMap::from([(limited.name.as_str().into(), Content::of(value)?)]),
            ..Properties::default()
        },
    })
}

fn words(why: Why) -> &'static str {
    match why {
        Why::Emulsified => {
            "Emulsified oil does not rise, and no stage takes it out of the fluid. Only thinning \
             with fresh fluid brings it down; beyond that the fluid is at its end."
        }
        Why::NoStageRemovesIt => {
            "No stage removes it, and every round adds to what is dissolved. Only thinning with \
             fresh fluid brings it down; beyond that the fluid is to be thrown away."
        }
        Why::ComesInTooFast => {
            "It comes in faster than the stages remove it at this limit. A larger throughput or a \
             stage that removes more would do it."
        }
        Why::Microbes => {
            "The count lies in the band of poor control, in which the UK's HSE asks to act at \
             once. Such fluid carries the microbes into every machine that it is filled into; \
             find the cause before it is used again."
        }
        Why::AbovePublishedLimit => {
            "Whatever limit the request sets, the content lies above the one from which TRGS 611 \
             asks for measures. Follow the rules that hold in your place."
        }
    }
}

/// What the dip slide says after the treatment.
pub(super) fn bacteria(question: &Recycler, n: f64) -> Result<Option<Bacteria>, Refusal> {
    let Some(count) = question.feed.dip_slide else { return Ok(None) };
    let kills = question.stages.iter().map(|stage| stage.kills.map_or(0.0, Quantity::get));
    let survive: f64 = kills.map(|share| 1.0 - share / 100.0).product();
    let left = match question.mode {
        Mode::SinglePass => survive.powf(n),
        Mode::Recirculate => (-(1.0 - survive) * n).exp(),
    };
    let count = BacterialCount::of(count.get() * left)?;
    let band = match count.get() {
        count if count < GOOD_BELOW => BacteriaBand::Good,
        count if count < POOR_FROM => BacteriaBand::Reasonable,
        _ => BacteriaBand::Poor,
    };
    Ok(Some(Bacteria { count, band }))
}

/// Where properties that keep coming in settle, where anything removes them.
pub(super) fn settling(treatment: &Treatment) -> Result<Vec<Settling>, Refusal> {
    let removed = treatment.fed_places().filter(|i| treatment.is_removed(*i));
    let settling = removed.map(|i| {
        let name = treatment.name(i).to_owned();
        let content = Content::of(treatment.settles_at(i))?;
        Ok(Settling {
            property: name.clone(),
            settles_at: Properties {
                matter: BTreeMap::from([(name.into(), content)]),
                ..Properties::default()
            },
            time_constant_hours: Hours::of(treatment.time_constant(i))?,
        })
    });
    settling.collect()
}
