//! What a top-up request may not contradict itself in.

use super::{Draining, TopUp};
use crate::fluid::practice::NEAT_FROM;
use crate::fluid::stock::{self, Stock};
use crate::quantity::{Concentration, Quantity};
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};

impl TopUp {
    pub(super) fn check(&self, stocks: &[Stock]) -> Result<(), Refusal> {
        self.losses.map_or(Ok(()), |losses| losses.check("/losses"))?;
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
            let detail = sentence!(
                "{} is concentrate and no premix: a premix is below {}. Where a mixing tank with a \
                 stirrer is filled, say so as the vessel.",
                bound,
                Concentration::measure_of(NEAT_FROM)
            );
            faults.add("/premix_at_most", detail);
        }
    }

    fn check_target(&self, faults: &mut Faults) {
        let Some(volume) = self.target.volume else {
            return;
        };
        if volume.get() > self.sump.capacity.get() {
            let detail = sentence!(
                "The target of {} does not fit into the sump's capacity of {}.",
                volume,
                self.sump.capacity
            );
            faults.add("/target/volume", detail);
        }
        if volume.get() < self.sump.volume.get() && self.draining() == Draining::NotAllowed {
            let detail = sentence!(
                "The sump holds {}, more than the target of {}, and draining is not allowed. Allow \
                 draining, or raise the target.",
                self.sump.volume,
                volume
            );
            faults.add("/target/volume", detail);
        }
    }
}
