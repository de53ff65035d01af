//! The boundaries: the published ones, and the fluid's own where they are stricter.

use super::question::Condition;
use crate::fluid::practice::{
    GOOD_BELOW, HARDNESS_AT_LEAST, NITRATE_OF_WATER_AT_MOST, NITRITE_AT_MOST, OIL_DISTURBS_FROM,
    POOR_FROM,
};
use crate::quantity::{Measure, Quantity};

/// The range that strips for cutting fluid cover, pH (DGUV Regel 109-003).
const PH_RANGE: (f64, f64) = (8.5, 9.5);
/// A fall of the pH from first fill that calls for measures (DGUV Regel 109-003).
const PH_FALL: f64 = 0.5;
/// A fall that is worth a second look. Common practice, no source.
const PH_FALL_SEEN: f64 = 0.3;
/// So far below its range a pH is low, however high it was at first. Common practice, no source.
const PH_FAR_BELOW: f64 = 0.5;
/// Nitrite below which it may be measured every four weeks, mg/L (TRGS 611, 2007).
const NITRITE_SEEN: f64 = 10.0;
/// The warmest that fluid is well at, °C (UKLA/HSE guide, at second hand).
const TEMPERATURE_AT_MOST: f64 = 30.0;
/// Days after which a sump is cleaned out (DGUV Regel 109-003, example in Annex 5: yearly).
const DAYS_AT_MOST: f64 = 365.0;
/// Days before that in which the clean-out is planned. Common practice, no source.
const DAYS_TO_PLAN: f64 = 30.0;
/// Tramp oil from which to act, % by volume. Common practice, no source.
const OIL_AT_MOST: f64 = 3.0;
/// Days that fluid may stand without air. Common practice, no source.
pub(super) const DAYS_STANDING: f64 = 3.0;
/// A share of a limit that is worth a second look. Common practice, no source.
const SHARE_SEEN: f64 = 0.8;

/// A boundary in use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Boundary {
    /// Where it lies.
    pub(super) at: f64,
    /// Whether it is the fluid's own and not the published one.
    pub(super) own: bool,
}

/// The boundaries that observations are held against.
pub(super) struct Bounds {
    pub(super) ph_low: Boundary,
    pub(super) ph_high: Boundary,
    pub(super) ph_fall: Boundary,
    pub(super) ph_fall_seen: f64,
    pub(super) bacteria: Boundary,
    pub(super) bacteria_seen: f64,
    pub(super) nitrite: Boundary,
    pub(super) nitrite_seen: f64,
    pub(super) nitrate_of_water: f64,
    pub(super) hardness_low: Boundary,
    pub(super) tramp_oil: Boundary,
    pub(super) tramp_oil_seen: f64,
    pub(super) temperature: Boundary,
    pub(super) days: Boundary,
    pub(super) days_seen: f64,
}

/// Something that may be no more than the stricter of two.
fn at_most<Q: Quantity>(published: f64, own: Option<Q>) -> Boundary {
    match own.map(Quantity::get).filter(|own| *own < published) {
        Some(own) => Boundary { at: own, own: true },
        None => Boundary { at: published, own: false },
    }
}

/// Something that may be no less than the stricter of two.
fn at_least<Q: Quantity>(published: f64, own: Option<Q>) -> Boundary {
    match own.map(Quantity::get).filter(|own| *own > published) {
        Some(own) => Boundary { at: own, own: true },
        None => Boundary { at: published, own: false },
    }
}

/// The pH that counts as far below a range.
pub(super) fn far_below(ph_low: f64) -> f64 {
    ph_low - PH_FAR_BELOW
}

/// From where a limit is worth a second look.
pub(super) fn seen(limit: f64) -> f64 {
    SHARE_SEEN * limit
}

impl Condition {
    pub(super) fn bounds(&self) -> Bounds {
        let own = self.limits.unwrap_or_default();
        let bacteria = at_most(POOR_FROM, own.bacteria);
        let nitrite = at_most(NITRITE_AT_MOST, own.nitrite);
        let tramp_oil = at_most(OIL_AT_MOST, own.tramp_oil);
        let days = at_most(DAYS_AT_MOST, own.days);
        let ph_fall = at_most(PH_FALL, own.ph_fall);
        // A limit below what is otherwise only seen is acted on alone.
        Bounds {
            ph_low: at_least(PH_RANGE.0, own.ph_low),
            ph_high: at_most(PH_RANGE.1, own.ph_high),
            ph_fall_seen: PH_FALL_SEEN.min(ph_fall.at),
            ph_fall,
            bacteria_seen: GOOD_BELOW.min(bacteria.at),
            bacteria,
            nitrite_seen: NITRITE_SEEN.min(nitrite.at),
            nitrite,
            nitrate_of_water: NITRATE_OF_WATER_AT_MOST,
            hardness_low: match own.hardness_low {
                // Nothing is published: the fluid's own goes first, whatever it is.
                Some(least) => Boundary { at: least.get(), own: true },
                None => Boundary { at: HARDNESS_AT_LEAST, own: false },
            },
            tramp_oil_seen: OIL_DISTURBS_FROM.min(tramp_oil.at),
            tramp_oil,
            temperature: at_most(TEMPERATURE_AT_MOST, own.temperature),
            days_seen: (days.at - DAYS_TO_PLAN).max(0.0),
            days,
        }
    }

    /// The limits of the fluid's sheet that are laxer than the published ones: the member, the
    /// limit, and the published one.
    pub(super) fn laxer(&self) -> Vec<(&'static str, Measure, Measure)> {
        let own = self.limits.unwrap_or_default();
        fn than<Q: Quantity>(
            name: &'static str,
            own: Option<Q>,
            published: f64,
            is_most: bool,
        ) -> Option<(&'static str, Measure, Measure)> {
            let own = own?;
            let is_laxer = if is_most { own.get() > published } else { own.get() < published };
            is_laxer.then(|| (name, own.measure(), Q::measure_of(published)))
        }
        let found = [
            than("ph_low", own.ph_low, PH_RANGE.0, false),
            than("ph_high", own.ph_high, PH_RANGE.1, true),
            than("ph_fall", own.ph_fall, PH_FALL, true),
            than("bacteria", own.bacteria, POOR_FROM, true),
            than("nitrite", own.nitrite, NITRITE_AT_MOST, true),
            than("tramp_oil", own.tramp_oil, OIL_AT_MOST, true),
            than("temperature", own.temperature, TEMPERATURE_AT_MOST, true),
            than("days", own.days, DAYS_AT_MOST, true),
        ];
        found.into_iter().flatten().collect()
    }
}
