//! What a round of top-ups takes for granted because the request did not say.

use super::TopUpRound;
use super::answer::TopUpRoundAnswer;
use super::strengths::STEPS_PER_POINT;
use crate::fluid::practice::{self, PREMIX_AT_MOST};
use crate::fluid::stock;
use crate::quantity::{Concentration, Measure, Quantity, Share};
use crate::sentence;
use crate::text::{Assumption, Sentence, density_of_water};

impl TopUpRound {
    pub(super) fn assumptions(&self, answer: &TopUpRoundAnswer) -> Vec<Assumption> {
        let mut assumptions = stock::assumptions(&self.plain_stocks());
        let text = sentence!(
            "The fluid in the sumps was assumed to be well mixed, with the {}.",
            density_of_water()
        );
        assumptions.push(Assumption::new("/sumps", text));
        assumptions.push(practice::read_with_pumps_off("/sumps"));
        assumptions.extend(self.about_readings());
        let settings = self.mixing.as_ref().and_then(|mixing| mixing.settings.as_ref());
        let about: [(bool, &'static str, Sentence); 9] = [
            (
                self.sumps.iter().any(|found| found.fill_to.is_none()),
                "/sumps",
                sentence!(
                    "A sump that does not say what it is filled to was assumed to be filled to what it \
                     holds; one in its band that lacks less than a fiftieth of that counts as full."
                ),
            ),
            (
                self.margin.is_none(),
                "/margin",
                sentence!(
                    "Sumps were brought inside their bands by {} of the band's width at either end.",
                    Share::measure_of(10.0)
                ),
            ),
            (
                self.premix_at_most.is_none(),
                "/premix_at_most",
                sentence!(
                    "A premix was assumed to be {} at most. The fluid's own sheet goes first.",
                    Concentration::measure_of(PREMIX_AT_MOST)
                ),
            ),
            (
                settings.is_none() && !answer.premixes.is_empty(),
                "/mixing/settings",
                sentence!(
                    "Strengths a {} of a point apart were looked at, and finer ones only where those \
                     would take more premixes; with moving, coarser ones where sets of them are too \
                     many.",
                    if STEPS_PER_POINT == 10.0 { "tenth" } else { "part" }
                ),
            ),
            (
                self.moving.is_none(),
                "/moving",
                sentence!("No fluid is moved from sump to sump, since nothing says how."),
            ),
            (
                self.moving.is_some(),
                "/moving",
                sentence!(
                    "A sump gives to one other at most, and takes from one other. Fluid goes only \
                     from what is too strong to what is too weak."
                ),
            ),
            (
                self.vessels.is_none(),
                "/vessels",
                sentence!("No vessels were given, so there are no trips."),
            ),
            (
                self.vessels.is_some(),
                "/vessels",
                sentence!(
                    "A trip carries one premix in the largest vessel for its product, and a sump that \
                     fits into a load is filled on one trip."
                ),
            ),
            (
                answer.minutes.is_some(),
                "/stop_minutes",
                sentence!("Work that has no time in the request was assumed to take none."),
            ),
        ];
        let about = about.into_iter().filter(|(applies, _, _)| *applies);
        assumptions.extend(about.map(|(_, pointer, text)| Assumption::new(pointer, text)));
        if self.stocks.iter().any(|stock| stock.unit_cost.is_none()) && self.stocks.len() > 2 {
            let text = sentence!(
                "Where several mixes make a premix, the one of the least cost was taken; of stocks \
                 without a price, the first of the list of {}.",
                Measure::bare(f64::from(u32::try_from(self.stocks.len()).unwrap_or(u32::MAX)))
            );
            assumptions.push(Assumption::new("/stocks", text));
        }
        assumptions
    }

    /// What reading the instruments takes for granted, each said once.
    fn about_readings(&self) -> Vec<Assumption> {
        let mut own: Vec<Assumption> = Vec::new();
        for (i, found) in self.sumps.iter().enumerate() {
            let Some(reading) = &found.sump.reading else { continue };
            for assumption in reading.assumptions(&format!("/sumps/{i}/sump/reading")) {
                if own.iter().all(|known| known.text != assumption.text) {
                    own.push(assumption);
                }
            }
        }
        own
    }
}
