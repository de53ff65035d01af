//! What is not known, or was measured too long ago, and the cheapest test that tells.

use super::answer::{MissingTest, Observation};
use super::question::Condition;
use crate::quantity::{Days, Quantity};
use crate::sentence;
use crate::text::Sentence;

/// Strength, pH and dip slide are for each week (UK HSE; DGUV Regel 109-003).
const WEEKLY: f64 = 7.0;
/// Nitrite is for each week (TRGS 611, 2007) ...
const NITRITE_WEEKLY: f64 = 7.0;
/// ... and for every four weeks where it was below 10 mg/L three times; that it was, only the
/// shop knows, so that one low result counts for them here.
const NITRITE_AT_MOST: f64 = 28.0;
/// Nitrite below which it may wait, mg/L (TRGS 611, 2007).
const NITRITE_LOW: f64 = 10.0;

/// Whether something was measured so lately.
fn is_fresh(days_ago: Option<Days>, most: f64) -> bool {
    days_ago.is_none_or(|days| days.get() <= most)
}

impl Condition {
    /// Whether there is a dip slide of this week.
    pub(super) fn slide_is_fresh(&self) -> bool {
        self.bacteria.is_some_and(|slide| is_fresh(slide.days_ago, WEEKLY))
    }

    pub(super) fn missing(&self) -> Vec<MissingTest> {
        let mut missing = Vec::new();
        let mut wants = |is_known: bool, observation: Observation, text: Sentence| {
            if !is_known {
                missing.push(MissingTest { observation, text });
            }
        };
        wants(
            self.look.is_some(),
            Observation::Look,
            sentence!("Lift the cover and look at it: a minute, every day."),
        );
        wants(
            self.smell.is_some(),
            Observation::Smell,
            sentence!(
                "Fan some air from it towards you and smell it; never put your head into the sump."
            ),
        );
        let is_read = self.reading.is_some() || self.concentration.is_some();
        if is_read && self.band.is_none() {
            let text = sentence!("Take the band of strengths from the fluid's sheet.");
            wants(false, Observation::Strength, text);
        } else {
            wants(
                is_read && is_fresh(self.strength_days_ago, WEEKLY),
                Observation::Strength,
                sentence!("Read the refractometer: a minute, every week."),
            );
        }
        wants(
            self.ph.is_some_and(|ph| is_fresh(ph.days_ago, WEEKLY)),
            Observation::Ph,
            sentence!("Dip a pH strip: a minute, every week."),
        );
        wants(
            self.slide_is_fresh(),
            Observation::Bacteria,
            sentence!("Dip a slide and read it after one to two days, every week."),
        );
        let nitrite_lasts = |content: f64| {
            if content < NITRITE_LOW { NITRITE_AT_MOST } else { NITRITE_WEEKLY }
        };
        wants(
            self.nitrite.is_some_and(|nitrite| {
                is_fresh(nitrite.days_ago, nitrite_lasts(nitrite.content.get()))
            }),
            Observation::Nitrite,
            sentence!("Dip a nitrite strip: a minute, every week until three results are low."),
        );
        missing
    }
}
