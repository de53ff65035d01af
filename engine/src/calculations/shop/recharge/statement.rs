//! The statement: which batches to prepare, how long the round takes, and when to begin.

use super::RechargeAnswer;
use crate::quantity::{Quantity, Volume};
use crate::sentence;
use crate::text::{Sentence, listed};

/// No more batches than this are named one by one.
const NAMED: usize = 3;

impl RechargeAnswer {
    pub(super) fn statement(&self) -> Sentence {
        let round = sentence!("{}{}", self.to_prepare(), self.on_the_way());
        match self.begins_hours_before {
            Some(hours) => sentence!(
                "{} The first system cleaner goes in {} before the round.",
                round,
                hours.roughly()
            ),
            None => round,
        }
    }

    fn to_prepare(&self) -> Sentence {
        if self.batches.len() <= NAMED {
            let batches = self.batches.iter().map(|batch| {
                sentence!(
                    "{} of {} at {}",
                    batch.volume.roughly(),
                    &batch.product,
                    batch.concentration.roughly()
                )
            });
            return sentence!("Prepare {}.", listed(batches));
        }
        let all: f64 = self.batches.iter().map(|batch| batch.volume.get()).sum();
        sentence!(
            "Prepare {} batches, {} in all.",
            self.batches.len(),
            Volume::measure_of(all).rounded(3)
        )
    }

    /// The trips and the hours, as a further sentence.
    fn on_the_way(&self) -> Sentence {
        let Some(trips) = &self.trips else { return sentence!("") };
        let trips = match trips.len() {
            1 => sentence!("one trip"),
            several => sentence!("{} trips", several),
        };
        match self.crew_hours {
            Some(hours) => {
                sentence!(" The round takes {} in {}.", hours.roughly(), trips)
            }
            None => sentence!(" The round takes {}.", trips),
        }
    }
}
