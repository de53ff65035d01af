//! What a plan takes for granted because the request did not say.

use super::Recharge;
use super::mixed::Mixed;
use crate::calculation::Assumption;
use crate::quantity::Quantity;
use crate::stock::{self, Stock};

impl Recharge {
    pub(super) fn assumptions(&self, stocks: &[Stock], batches: &[Mixed]) -> Vec<Assumption> {
        let mut assumptions = stock::assumptions(stocks);
        assumptions.push(Assumption::like_water(
            "/sumps",
            "Old fluid was taken to have the density of water at {}, {}.",
        ));
        let mut note = |applies: bool, pointer: &'static str, text: &'static str| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        note(
            true,
            "/sumps",
            "Old fluid was taken to be well mixed in the part that the suction reaches, and a flush \
             to mix well with the residue.",
        );
        note(
            self.sumps.iter().any(|sump| sump.fluid_now.is_none()),
            "/sumps",
            "A sump that does not say what is in it now was taken to be full to its working level \
             with what its residue is.",
        );
        note(
            self.sumps.iter().any(|sump| {
                sump.pumped_properties() == sump.left_properties()
                    && !sump.left_properties().is_empty()
            }),
            "/sumps",
            "Where only one of the two says what it carries, the residue and the fluid above it \
             carry the same.",
        );
        note(
            self.sumps.iter().any(|sump| sump.solids.get() > 0.0),
            "/sumps",
            "Chips come along evenly with what is sucked out and take no room in the dirty tank.",
        );
        note(
            self.sumps.iter().any(|sump| sump.flush.is_some()),
            "/sumps",
            "Flushes are drawn from their stock at the machine, not from the clean tank; they come \
             back in the dirty tank.",
        );
        note(
            true,
            "/carrier",
            "A trip carries one batch. Only a sump larger than a tank takes several trips; its full \
             tanks travel alone, dirty ones before clean ones, and the rest of it on one trip.",
        );
        note(
            self.strength_tolerance.is_none() && self.sumps.len() > 1,
            "/strength_tolerance",
            "Refills of one product within 0.2 points of strength share a batch.",
        );
        note(
            batches.iter().any(|batch| batch.sumps.len() > 1),
            "/strength_tolerance",
            "A shared batch is halfway between the strongest and the weakest refill that it is for.",
        );
        note(
            self.mixing_dirty.is_none() && self.products().len() > 1,
            "/mixing_dirty",
            "Dirty fluids of different products are kept apart.",
        );
        note(
            !self.empties_on_the_way(),
            "/times/basket_emptying_minutes",
            "The basket is emptied at the station only, in no time of its own.",
        );
        note(
            self.times.loading_minutes.is_none(),
            "/times/loading_minutes",
            "Filling the clean tank takes no time of its own.",
        );
        note(
            self.times.flush_minutes.is_none()
                && self.sumps.iter().any(|sump| sump.flush.is_some()),
            "/times/flush_minutes",
            "A flush is hosed in at the carrier's discharge rate.",
        );
        assumptions.extend(self.about_stocks());
        assumptions
    }

    /// What was taken for granted of stocks and their products.
    fn about_stocks(&self) -> Vec<Assumption> {
        let products = self.products();
        let about = self.stocks.iter().enumerate().filter_map(|(s, stock)| {
            let pointer = format!("/stocks/{s}/product");
            let text = match &stock.product {
                None if stock.is_more_than_water() => {
                    format!("{}: of the one product of the round.", stock.name)
                }
                None => format!("{}: goes with every product.", stock.name),
                Some(product) if !products.contains(&product.as_str()) => {
                    format!("{}: not used; no sump of the round takes its product.", stock.name)
                }
                Some(_) => return None,
            };
            Some(Assumption::new(pointer, text))
        });
        about.collect()
    }
}
