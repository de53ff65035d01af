//! What a top-up request may not contradict itself in.

use super::{Draining, Sump, TopUp};
use crate::practice::NEAT_FROM;
use crate::quantity::{Concentration, Quantity};
use crate::refusal::{Faults, Kind, Refusal};
use crate::sentence::Sentence;
use crate::stock::{self, Stock};

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

impl Sump {
    /// Notes what a sump, the member `sump` of a request, contradicts itself in.
    pub(crate) fn check(&self, faults: &mut Faults) {
        if self.volume.get() > self.capacity.get() {
            let detail = "The sump is fuller than full: {} in a capacity of {}.";
            let detail = Sentence::new(detail).with(self.volume.measure());
            faults.add("/sump/volume", detail.with(self.capacity.measure()));
        }
        if self.concentration.is_some() && self.reading.is_some() {
            let detail = "The strength of the fluid in the sump is given twice, as a concentration \
                          and as a reading. Give one of them.";
            faults.add("/sump/reading", Sentence::new(detail));
        }
        if let Ok(Some(concentration)) = self.strength() {
            stock::check_volume_shares(concentration, &self.properties, "/sump", faults);
        }
    }

    /// Refuses a sump with fluid in it of which nobody knows how strong it is.
    pub(crate) fn check_strength_given(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        if self.concentration.is_none() && self.reading.is_none() && self.volume.get() > 0.0 {
            let detail = "The strength of the fluid in the sump is missing. Give its concentration \
                          in % by volume, or a reading.";
            faults.add("/sump/concentration", Sentence::new(detail));
        }
        faults.or_refuse(Kind::NotIdentifiable)
    }
}
