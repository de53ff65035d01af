//! The published boundaries, and the fluid's own where they are stricter.

use super::SheetLimits;
use crate::fluid::practice::{NITRITE_AT_MOST, POOR_FROM};
use crate::quantity::{Measure, Quantity};
use crate::sentence;
use crate::text::Finding;

/// The range that strips for cutting fluid cover, pH (DGUV Regel 109-003).
const PH_RANGE: (f64, f64) = (8.5, 9.5);
/// A fall of the pH from first fill that calls for measures (DGUV Regel 109-003).
const PH_FALL: f64 = 0.5;
/// The warmest that fluid is well at, °C (UKLA/HSE guide, at second hand).
const TEMPERATURE_AT_MOST: f64 = 30.0;
/// Days after which a sump is cleaned out (DGUV Regel 109-003, example in Annex 5: yearly).
const DAYS_AT_MOST: f64 = 365.0;
/// Tramp oil from which to act, % by volume. Common practice, no source.
const OIL_AT_MOST: f64 = 3.0;

/// A boundary in use.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Boundary {
    /// Where it lies.
    pub at: f64,
    /// Whether it is the fluid's own and not the published one.
    pub own: bool,
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

impl SheetLimits {
    /// The lowest pH.
    #[must_use]
    pub fn least_ph(&self) -> Boundary {
        at_least(PH_RANGE.0, self.ph_low)
    }

    /// The highest pH.
    #[must_use]
    pub fn most_ph(&self) -> Boundary {
        at_most(PH_RANGE.1, self.ph_high)
    }

    /// The most that the pH may fall.
    #[must_use]
    pub fn most_fall(&self) -> Boundary {
        at_most(PH_FALL, self.ph_fall)
    }

    /// The count from which to act, CFU/mL.
    #[must_use]
    pub fn most_bacteria(&self) -> Boundary {
        at_most(POOR_FROM, self.bacteria)
    }

    /// The most nitrite, mg/L.
    #[must_use]
    pub fn most_nitrite(&self) -> Boundary {
        at_most(NITRITE_AT_MOST, self.nitrite)
    }

    /// The tramp oil from which to act, % by volume.
    #[must_use]
    pub fn most_oil(&self) -> Boundary {
        at_most(OIL_AT_MOST, self.tramp_oil)
    }

    /// The warmest, °C.
    #[must_use]
    pub fn warmest(&self) -> Boundary {
        at_most(TEMPERATURE_AT_MOST, self.temperature)
    }

    /// Days after which a sump is cleaned out.
    #[must_use]
    pub fn most_days(&self) -> Boundary {
        at_most(DAYS_AT_MOST, self.days)
    }

    /// The limits that are laxer than the published ones, of those that `are_used`; `pointer` is
    /// where the sheet lies.
    pub(crate) fn laxer(&self, pointer: &str, are_used: impl Fn(&str) -> bool) -> Vec<Finding> {
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
            than("ph_low", self.ph_low, PH_RANGE.0, false),
            than("ph_high", self.ph_high, PH_RANGE.1, true),
            than("ph_fall", self.ph_fall, PH_FALL, true),
            than("bacteria", self.bacteria, POOR_FROM, true),
            than("nitrite", self.nitrite, NITRITE_AT_MOST, true),
            than("tramp_oil", self.tramp_oil, OIL_AT_MOST, true),
            than("temperature", self.temperature, TEMPERATURE_AT_MOST, true),
            than("days", self.days, DAYS_AT_MOST, true),
        ];
        let found = found.into_iter().flatten().filter(|(name, ..)| are_used(name));
        let laxer = found.map(|(name, own, published)| {
            let text = sentence!(
                "The limit of {} is laxer than the published {}, which was used.",
                own,
                published
            );
            Finding::note("laxer-limit", format!("{pointer}/{name}"), text)
        });
        laxer.collect()
    }
}
