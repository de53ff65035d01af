//! The boundaries: the published ones, and the fluid's own where they are stricter.

use super::question::Condition;
use crate::fluid::practice::{
    GOOD_BELOW, HARDNESS_AT_LEAST, NITRATE_OF_WATER_AT_MOST, OIL_DISTURBS_FROM,
};
use crate::fluid::sheet::Boundary;
use crate::quantity::Quantity;

/// A fall that is worth a second look. Common practice, no source.
const PH_FALL_SEEN: f64 = 0.3;
/// So far below its range a pH is low, however high it was at first. Common practice, no source.
const PH_FAR_BELOW: f64 = 0.5;
/// Nitrite below which it may be measured every four weeks, mg/L (TRGS 611, 2007).
const NITRITE_SEEN: f64 = 10.0;
/// Days before that in which the clean-out is planned. Common practice, no source.
const DAYS_TO_PLAN: f64 = 30.0;
/// Days that fluid may stand without air. Common practice, no source.
pub(super) const DAYS_STANDING: f64 = 3.0;
/// A share of a limit that is worth a second look. Common practice, no source.
const SHARE_SEEN: f64 = 0.8;

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
        let own = self.sheet.unwrap_or_default();
        let (bacteria, nitrite) = (own.most_bacteria(), own.most_nitrite());
        let (tramp_oil, days) = (own.most_oil(), own.most_days());
        let ph_fall = own.most_fall();
        // A limit below what is otherwise only seen is acted on alone.
        Bounds {
            ph_low: own.least_ph(),
            ph_high: own.most_ph(),
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
            temperature: own.warmest(),
            days_seen: (days.at - DAYS_TO_PLAN).max(0.0),
            days,
        }
    }
}
