//! What is dissolved, mixed or swims in the fluid, against its boundaries.

use super::super::answer::Observation;
use super::super::bounds::{Bounds, seen};
use super::super::question::Condition;
use super::super::rules::{self, CareRow};
use super::Judged;
use crate::fluid::sheet::Boundary;
use crate::quantity::{Concentration, Conductivity, Content, Quantity};
use crate::sentence;

/// So many times what a fresh mix or its cycles explain is much. Common practice, no source.
const MUCH: f64 = 2.0;

impl Condition {
    /// A content from which on something is seen, and above which something is done.
    fn content(
        observation: Observation,
        is: Content,
        (seen_from, at_most): (f64, f64),
        (watch, act): (&'static CareRow, &'static CareRow),
        name: &'static str,
    ) -> Judged {
        let measure = |at: f64| Content::measure_of(at).rounded(3);
        let (shown, value) = (is.roughly(), is.get());
        let (row, text) = if value > at_most {
            (Some(act), sentence!("{} of {}, above {}", shown, name, measure(at_most)))
        } else if value >= seen_from {
            (
                Some(watch),
                sentence!("{} of {}, to watch from {} on", shown, name, measure(seen_from)),
            )
        } else {
            (None, sentence!("{} of {}, below {}", shown, name, measure(seen_from)))
        };
        Judged::new(observation, row, text, act.source)
    }

    pub(super) fn judged_nitrite(&self, bounds: &Bounds) -> Option<Judged> {
        let bound = (bounds.nitrite_seen, bounds.nitrite.at);
        let rows = (rules::SOME_NITRITE, rules::NITRITE);
        let is = self.nitrite?.content;
        Some(Self::content(Observation::Nitrite, is, bound, rows, "nitrite").by(bounds.nitrite))
    }

    pub(super) fn judged_chloride(&self) -> Option<Judged> {
        let (is, limit) = (self.chloride?.content, self.sheet?.chloride?.get());
        let rows = (rules::CHLORIDE, rules::TOO_MUCH_CHLORIDE);
        Some(Self::content(Observation::Chloride, is, (seen(limit), limit), rows, "chloride"))
    }

    pub(super) fn judged_nitrate(&self, bounds: &Bounds) -> Option<Judged> {
        let is = self.nitrate_of_water?;
        let most = bounds.nitrate_of_water;
        let is_high = is.get() > most;
        let (shown, bound) = (is.roughly(), Content::measure_of(most));
        let text = if is_high {
            sentence!("{} of nitrate in the water, above {}", shown, bound)
        } else {
            sentence!("{} of nitrate in the water, not above {}", shown, bound)
        };
        let row = is_high.then_some(rules::NITRATE);
        Some(Judged::new(Observation::NitrateOfWater, row, text, rules::NITRATE.source))
    }

    pub(super) fn judged_hardness(&self, bounds: &Bounds) -> Option<Judged> {
        let is = self.hardness?.content;
        let most = self.sheet.and_then(|sheet| sheet.hardness_high);
        let (shown, least) = (is.roughly(), Content::measure_of(bounds.hardness_low.at).rounded(3));
        let judged = |row, text| Judged::new(Observation::Hardness, row, text, rules::SOFT.source);
        Some(if is.get() < bounds.hardness_low.at {
            let text = sentence!("hardness {}, below {}, so that it may foam", shown, least);
            judged(Some(rules::SOFT), text).by(bounds.hardness_low)
        } else if let Some(most) = most.filter(|most| is > *most) {
            judged(Some(rules::HARD), sentence!("hardness {}, above {}", shown, most))
        } else {
            judged(None, sentence!("hardness {}, not below {}", shown, least))
                .by(bounds.hardness_low)
        })
    }

    pub(super) fn judged_oil(&self, bounds: &Bounds) -> Option<Judged> {
        let is = self.tramp_oil?.share;
        let measure = |at: f64| Concentration::measure_of(at).rounded(3);
        let (shown, act) = (is.roughly(), bounds.tramp_oil);
        let judged = |row, text| Judged::new(Observation::TrampOil, row, text, rules::OILY.source);
        Some(if is.get() >= act.at {
            let text = sentence!(
                "{} of tramp oil, to be skimmed at once from {} on",
                shown,
                measure(act.at)
            );
            judged(Some(rules::TOO_OILY), text).by(act)
        } else if is.get() > bounds.tramp_oil_seen {
            let text =
                sentence!("{} of tramp oil, above {}", shown, measure(bounds.tramp_oil_seen));
            judged(Some(rules::OILY), text)
        } else {
            let text =
                sentence!("{} of tramp oil, not above {}", shown, measure(bounds.tramp_oil_seen));
            judged(None, text)
        })
    }

    /// Of the water's salts evaporation leaves as many times as many as there are cycles, and the
    /// concentrate brings the rest: the balance of `make-up` where it has settled, which is the
    /// most that it comes to.
    fn explained(&self) -> Option<f64> {
        let observed = self.conductivity?;
        let (fresh, water) = (observed.fresh_mix?.get(), observed.water?.get());
        let losses = self.losses.filter(|losses| losses.carried_off() > 0.0)?;
        let (e, d) = (losses.evaporates(), losses.carried_off());
        Some((fresh - water).max(0.0) + water * (e + d) / d)
    }

    pub(super) fn judged_conductivity(&self) -> Option<Judged> {
        let observed = self.conductivity?;
        let own = self.sheet.and_then(|sheet| sheet.conductivity).map(Quantity::get);
        let fresh = observed.fresh_mix.map(|fresh| MUCH * fresh.get());
        let explained = self.explained().map(|explained| MUCH * explained);
        // With nothing to hold it against it says nothing.
        own.or(fresh).or(explained)?;
        let measure = |at: f64| Conductivity::measure_of(at).rounded(3);
        let (is, shown) = (observed.now.get(), observed.now.roughly());
        let judged =
            |row, text| Judged::new(Observation::Conductivity, row, text, rules::SALTY.source);
        Some(if let Some(limit) = own.filter(|limit| is > *limit) {
            let text = sentence!("conductivity {}, above {}", shown, measure(limit));
            judged(Some(rules::TOO_SALTY), text).by(Boundary { at: limit, own: true })
        } else if let Some(explained) = explained.filter(|explained| is > *explained) {
            let text = sentence!(
                "conductivity {}, more than twice the {} that its cycles explain",
                shown,
                measure(explained / MUCH)
            );
            judged(Some(rules::TOO_SALTY), text)
        } else if let Some(limit) = own.filter(|limit| is > seen(*limit)) {
            let text = sentence!("conductivity {}, near the limit of {}", shown, measure(limit));
            judged(Some(rules::SALTY), text).by(Boundary { at: limit, own: true })
        } else if fresh.is_some_and(|fresh| is > fresh) {
            let text = sentence!("conductivity {}, more than twice that of the fresh mix", shown);
            judged(Some(rules::SALTY), text)
        } else {
            judged(None, sentence!("conductivity {}, not too high", shown))
        })
    }
}
