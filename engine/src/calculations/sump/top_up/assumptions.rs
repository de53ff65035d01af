//! What a top-up takes for granted because the request did not say.

use super::{FilledVessel, TopUp};
use crate::fluid::practice::{self, PREMIX_AT_MOST};
use crate::fluid::stock::{self, Stock};
use crate::quantity::{Concentration, Quantity};
use crate::sentence;
use crate::text::{Assumption, density_of_water};

impl TopUp {
    pub(super) fn assumptions(&self, stocks: &[Stock]) -> Vec<Assumption> {
        let mut assumptions = Vec::with_capacity(8);
        if self.stocks.is_none() {
            assumptions.push(Assumption::volumes_add());
            assumptions.push(Assumption::neat_and_water());
        } else {
            assumptions.extend(stock::assumptions(stocks));
        }
        let text = sentence!(
            "The fluid in the sump was assumed to be well mixed, with the {}.",
            density_of_water()
        );
        assumptions.push(Assumption::new("/sump", text));
        if let Some(reading) = &self.sump.reading {
            assumptions.extend(reading.assumptions("/sump/reading"));
        }
        if let Some(losses) = &self.losses {
            assumptions.extend(losses.assumptions("/losses"));
        }
        if self.target.volume.is_none() {
            let text = sentence!("The sump was assumed to be filled to its capacity.");
            assumptions.push(Assumption::new("/target/volume", text));
        }
        if self.draining.is_none() {
            let text = sentence!(
                "Draining was assumed to be allowed where no addition brings the fluid back."
            );
            assumptions.push(Assumption::new("/draining", text));
        }
        if self.vessel() == FilledVessel::Sump {
            assumptions.push(practice::read_with_pumps_off("/sump/volume"));
            if self.premix_at_most.is_none() {
                let text = sentence!(
                    "A premix was assumed to be {} at most. The fluid's own sheet goes first.",
                    Concentration::measure_of(PREMIX_AT_MOST)
                );
                assumptions.push(Assumption::new("/premix_at_most", text));
            }
        }
        let sump = self.sump.properties.names();
        let stocks = stocks.iter().flat_map(Stock::names);
        assumptions.extend(practice::of_hardness(sump.chain(stocks)));
        if self.stocks.is_some() {
            let text = sentence!(
                "All stocks were assumed to be of the product that is in the sump, or water."
            );
            assumptions.push(Assumption::new("/stocks", text));
        }
        assumptions
    }
}
