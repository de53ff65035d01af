//! Each observation against its boundary: the row of the table that it is on.

mod contents;
mod senses;

use super::answer::{JudgedObservation, Observation, Verdict};
use super::bounds::{Bounds, far_below};
use super::question::Condition;
use super::rules::{self, CareRow, SHEET};
use crate::fluid::band::Standing;
use crate::fluid::sheet::Boundary;
use crate::quantity::{BacterialCount, Concentration, Ph, Quantity};
use crate::sentence;
use crate::text::{Refusal, Sentence};
use std::borrow::Cow;

/// Out of a band by more than this share of its end is far. Common practice, no source.
const FAR: f64 = 0.25;

/// An observation, what was seen of it, and the row of the table that it is on.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Judged {
    pub(super) observation: Observation,
    /// None where it is good.
    pub(super) row: Option<&'static CareRow>,
    /// What was observed, and the boundary that it was held against.
    pub(super) text: Sentence,
    source: &'static str,
}

impl Judged {
    fn new(
        observation: Observation,
        row: Option<&'static CareRow>,
        text: Sentence,
        source: &'static str,
    ) -> Self {
        Self { observation, row, text, source: row.map_or(source, |row| row.source) }
    }

    /// The same with the fluid's sheet for a source where the boundary is its own.
    fn by(self, bound: Boundary) -> Self {
        Self { source: if bound.own { SHEET } else { self.source }, ..self }
    }

    pub(super) fn answer(&self) -> JudgedObservation {
        JudgedObservation {
            observation: self.observation,
            verdict: self.row.map_or(Verdict::Good, |row| row.verdict),
            text: self.text.clone(),
            source: Cow::Borrowed(self.source),
        }
    }
}

impl Condition {
    /// All that was observed, in the order of the request.
    pub(super) fn judged(&self) -> Result<Vec<Judged>, Refusal> {
        let bounds = self.bounds();
        let strength = self.strength()?;
        let judged = [
            strength.and_then(|c| self.judged_strength(c)),
            self.judged_ph(&bounds),
            self.judged_conductivity(),
            self.judged_bacteria(&bounds),
            self.judged_fungi(),
            self.judged_nitrite(&bounds),
            self.judged_nitrate(&bounds),
            self.judged_chloride(),
            self.judged_hardness(&bounds),
            self.judged_oil(&bounds),
            self.judged_temperature(&bounds),
            self.judged_age(&bounds),
            self.judged_standing(),
            self.judged_smell(),
            self.judged_look(),
            self.judged_foam(),
            self.judged_rust(),
            self.judged_skin(),
        ];
        Ok(judged.into_iter().flatten().collect())
    }

    /// The strength, by its reading or as it was given.
    pub(super) fn strength(&self) -> Result<Option<Concentration>, Refusal> {
        match &self.reading {
            Some(reading) => reading.concentration("/reading").map(Some),
            None => Ok(self.concentration),
        }
    }

    fn judged_strength(&self, c: Concentration) -> Option<Judged> {
        let band = self.band.as_ref()?;
        let far = match band.standing(c) {
            Standing::InBand => None,
            Standing::Below => Some(c.get() < band.low.get() * (1.0 - FAR)),
            Standing::Above => Some(c.get() > band.high.get() * (1.0 + FAR)),
        };
        let row = far.map(|far| if far { rules::FAR_OUT_OF_BAND } else { rules::OUT_OF_BAND });
        let text = match band.standing(c) {
            Standing::InBand => {
                sentence!(
                    "strength {}, in its band from {} to {}",
                    c.roughly(),
                    band.low,
                    band.high
                )
            }
            Standing::Below => {
                sentence!("strength {}, below its band ({} at least)", c.roughly(), band.low)
            }
            Standing::Above => {
                sentence!("strength {}, above its band ({} at most)", c.roughly(), band.high)
            }
        };
        Some(Judged::new(Observation::Strength, row, text, "the caller's band"))
    }

    fn judged_ph(&self, bounds: &Bounds) -> Option<Judged> {
        let observed = self.ph?;
        let (now, low, high) = (observed.now.get(), bounds.ph_low.at, bounds.ph_high.at);
        let fallen = observed.at_first_fill.map_or(0.0, |first| first.get() - now);
        let source = "DGUV Regel 109-003";
        let (seen, ph) = (|at: f64| Ph::measure_of(at).rounded(3), observed.now.roughly());
        let judged = |row, text| Judged::new(Observation::Ph, row, text, source);
        // Binary fractions: 9.2 − 8.7 is a little more than 0.5.
        let beyond = |fall: f64, bound: f64| fall > bound + 1e-9;
        // Bacteria eat a pH up first of all: without a slide it is not known whether alkali helps.
        let low_row =
            if self.slide_is_fresh() { rules::PH_FALLEN_WITH_SLIDE } else { rules::PH_FALLEN };
        Some(if beyond(fallen, bounds.ph_fall.at) {
            let text = sentence!(
                "pH {}, fallen by {} since first fill, more than {}",
                ph,
                seen(fallen),
                seen(bounds.ph_fall.at)
            );
            judged(Some(low_row), text).by(bounds.ph_fall)
        } else if now < far_below(low) {
            let text = sentence!("pH {}, below {}", ph, seen(far_below(low)));
            judged(Some(low_row), text).by(bounds.ph_low)
        } else if now < low {
            let text = sentence!("pH {}, below {}", ph, seen(low));
            judged(Some(rules::PH_OFF), text).by(bounds.ph_low)
        } else if now > high {
            let text = sentence!("pH {}, above {}", ph, seen(high));
            judged(Some(rules::PH_OFF), text).by(bounds.ph_high)
        } else if beyond(fallen, bounds.ph_fall_seen) {
            let text = sentence!("pH {}, fallen by {} since first fill", ph, seen(fallen));
            judged(Some(rules::PH_OFF), text)
        } else {
            let text = sentence!("pH {}, between {} and {}", ph, seen(low), seen(high));
            judged(None, text)
        })
    }

    fn judged_bacteria(&self, bounds: &Bounds) -> Option<Judged> {
        let count = self.bacteria?.count;
        let shown = count.measure().rounded(2);
        let measure = |at: f64| BacterialCount::measure_of(at).rounded(2);
        let (seen, act) = (bounds.bacteria_seen, bounds.bacteria.at);
        let judged = |row, text| Judged::new(Observation::Bacteria, row, text, "UK HSE");
        Some(if count.get() >= act {
            let text = sentence!("a dip slide of {}, poor from {} on", shown, measure(act));
            judged(Some(rules::OVERGROWN), text).by(bounds.bacteria)
        } else if count.get() >= seen {
            judged(
                Some(rules::GROWN),
                sentence!("a dip slide of {}, no longer good from {} on", shown, measure(seen)),
            )
        } else {
            judged(None, sentence!("a dip slide of {}, good below {}", shown, measure(seen)))
        })
    }
}
