//! What a top-up takes for granted, and what can hurt in doing it.

use super::{Action, FilledVessel, Step, TopUp};
use crate::fluid::practice::{self, PREMIX_AT_MOST};
use crate::fluid::stock::{self, Stock};
use crate::quantity::{Concentration, Quantity};
use crate::text::{Assumption, Caution, Sentence};

impl TopUp {
    pub(super) fn assumptions(&self, stocks: &[Stock]) -> Vec<Assumption> {
        let mut assumptions = Vec::with_capacity(8);
        if self.stocks.is_none() {
            let text = "Neat concentrate at 100 % and pure water at 0 % were taken to be at hand, \
                        both with the density of water at {}, {}.";
            assumptions.push(Assumption::volumes_add());
            assumptions.push(Assumption::like_water("/stocks", text));
        } else {
            assumptions.extend(stock::assumptions(stocks));
        }
        let text = "The fluid in the sump was taken to be well mixed, with the density of water at \
                    {}, {}.";
        assumptions.push(Assumption::like_water("/sump", text));
        if let Some(reading) = &self.sump.reading {
            assumptions.extend(reading.assumptions("/sump/reading"));
        }
        if self.target.volume.is_none() {
            assumptions.push(Assumption::new("/target/volume", "Filled to the sump's capacity."));
        }
        if self.draining.is_none() {
            let text = "Draining was taken to be allowed where nothing else brings the fluid back.";
            assumptions.push(Assumption::new("/draining", text));
        }
        if self.vessel() == FilledVessel::Sump {
            assumptions.push(practice::read_with_pumps_off("/sump/volume"));
            if self.premix_at_most.is_none() {
                let text = Sentence::new(
                    "A premix was taken to be {} at most, where the fluid's sheet says nothing else.",
                );
                let text = text.with(Concentration::measure_of(PREMIX_AT_MOST));
                assumptions.push(Assumption::new("/premix_at_most", text));
            }
        }
        let sump = self.sump.properties.names();
        let stocks = stocks.iter().flat_map(|stock| stock.properties.names());
        assumptions.extend(practice::of_hardness(sump.chain(stocks)));
        if self.stocks.is_some() {
            let text = "All stocks were taken to be of the product that is in the sump, or water.";
            assumptions.push(Assumption::new("/stocks", text));
        }
        assumptions
    }

    /// What can hurt in doing these steps.
    pub(super) fn cautions(&self, steps: &[Step]) -> Vec<Caution> {
        let does = |actions: &[Action]| steps.iter().any(|step| actions.contains(&step.action));
        let mut cautions = Vec::new();
        if self.vessel() == FilledVessel::Sump && !steps.is_empty() {
            cautions.push(Caution::MACHINE);
        }
        cautions.push(Caution::SKIN_AND_MIST);
        if does(&[Action::StirIn]) {
            cautions.push(Caution::CONCENTRATE);
        }
        if does(&[Action::Drain]) {
            cautions.push(Caution::DRAINED_FLUID);
        }
        cautions
    }
}
