//! What a top-up request may not contradict itself in.

use super::{Draining, TopUp};
use crate::fluid::practice::NEAT_FROM;
use crate::fluid::stock::{self, Stock};
use crate::quantity::{Concentration, Quantity};
use crate::text::{Faults, Kind, Refusal, Sentence};

impl TopUp {
    pub(super) fn check(&self, stocks: &[Stock]) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        if self.stocks.is_some() {
            stock::check(stocks, &mut faults);
        }
        self.sump.check(&mut faults);
        self.check_target(&mut faults);
        self.check_practice(&mut faults);
        faults.or_refuse(Kind::Inconsistent)?;

        self.sump.check_strength_given()
    }

    fn check_practice(&self, faults: &mut Faults) {
        if let Some(band) = self.full_band() {
            band.note_faults(faults);
        }
        if let Some(bound) = self.premix_at_most.filter(|bound| bound.get() >= NEAT_FROM) {
            let detail = "{} is concentrate and no premix: one lies below {}. Where what is filled is a \
                          mixing tank that is stirred, say so as the vessel.";
            let detail = Sentence::new(detail)
                .with(bound.measure())
                .with(Concentration::measure_of(NEAT_FROM));
            faults.add("/premix_at_most", detail);
        }
    }

    fn check_target(&self, faults: &mut Faults) {
        let Some(volume) = self.target.volume else {
            return;
        };
        if volume.get() > self.sump.capacity.get() {
            let detail = "The target of {} does not fit into the sump's capacity of {}.";
            let detail = Sentence::new(detail).with(volume.measure());
            faults.add("/target/volume", detail.with(self.sump.capacity.measure()));
        }
        if volume.get() < self.sump.volume.get() && self.draining() == Draining::NotAllowed {
            let detail = "The sump holds {}, more than the target of {}, and nothing may be \
                          drained. Allow draining, or raise the target.";
            let detail = Sentence::new(detail).with(self.sump.volume.measure());
            faults.add("/target/volume", detail.with(volume.measure()));
        }
    }
}
