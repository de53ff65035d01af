//! What a plan takes for granted because the request did not say.

use super::mixed::Mixed;
use super::{Recharge, SumpToClean, VesselUse};
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::stock::{self, Stock};
use crate::quantity::{Concentration, Quantity};
use crate::text::{Assumption, Sentence};

impl Recharge {
    pub(super) fn assumptions(&self, stocks: &[Stock], batches: &[Mixed]) -> Vec<Assumption> {
        let mut assumptions = stock::assumptions(stocks);
        assumptions.push(Assumption::like_water(
            "/sumps",
            "Old fluid was taken to have the density of water at {}, {}.",
        ));
        assumptions.extend(self.about_sumps());
        let mut note = |applies: bool, pointer: &'static str, text: &'static str| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
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
            batches.iter().any(|batch| batch.mark(self).is_some()),
            "/sumps",
            "The water of the batches was taken to read nothing on the refractometer.",
        );
        if self.premix_at_most.is_none() {
            let text = Sentence::new(
                "Nothing stronger than {} was taken to go into a sump. The fluid's own sheet goes \
                 first.",
            );
            let text = text.with(Concentration::measure_of(PREMIX_AT_MOST));
            assumptions.push(Assumption::new("/premix_at_most", text));
        }
        assumptions.extend(self.about_trips());
        assumptions.extend(self.about_stocks());
        assumptions
    }

    fn about_sumps(&self) -> Vec<Assumption> {
        let any = |of: fn(&SumpToClean) -> bool| self.sumps.iter().any(of);
        let about = [
            (
                true,
                "Old fluid was taken to be well mixed in the part that is taken out, and a rinse to \
                 mix well with the residue.",
            ),
            (
                any(|sump| sump.residue.is_none()),
                "A sump that does not say what stays in it was taken to be emptied to the last drop.",
            ),
            (
                any(|sump| sump.stays() > 0.0 && sump.residue_concentration.is_none()),
                "A residue that does not say how strong it is was taken to be as strong as the fluid \
                 now, or as the target where that is not said either.",
            ),
            (
                any(|sump| sump.fluid_now.is_none()),
                "A sump that does not say what is in it now was taken to be full to its working level \
                 with what its residue is.",
            ),
            (
                any(|sump| {
                    sump.pumped_properties() == sump.left_properties()
                        && !sump.left_properties().is_empty()
                }),
                "Where only one of the two says what it carries, the residue and the fluid above it \
                 carry the same.",
            ),
            (
                any(|sump| sump.cleaner.is_some()),
                "System cleaner was taken to mix with all of the old fluid, the residue too. In the \
                 balance it counts as water.",
            ),
            (any(|sump| sump.chips() > 0.0), "Chips come along evenly with what is taken out."),
        ];
        let about = about.into_iter().filter(|(applies, _)| *applies);
        about.map(|(_, text)| Assumption::new("/sumps", text)).collect()
    }

    fn about_trips(&self) -> Vec<Assumption> {
        if self.vessels.is_none() {
            let text = "No vessels were given, so there are no trips and no hours.";
            return vec![Assumption::new("/vessels", text)];
        }
        let for_all = |of: VesselUse| self.has_vessel_for(of);
        let chips = self.sumps.iter().any(|sump| sump.chips() > 0.0);
        let about = [
            (
                true,
                "/vessels",
                "All vessels go along on every trip, and a trip carries one batch. Only a sump larger \
                 than the vessels takes several trips; its full loads travel alone, dirty ones before \
                 clean ones, and the rest of it on one trip.",
            ),
            (
                !for_all(VesselUse::Clean),
                "/vessels",
                "No vessel is for clean fluid: sumps are refilled from a line at the machine.",
            ),
            (
                !for_all(VesselUse::Dirty),
                "/vessels",
                "No vessel is for dirty fluid: it is taken away from the machine otherwise.",
            ),
            (
                chips && !for_all(VesselUse::Chips),
                "/vessels",
                "No vessel is for chips: they go into a bin at the machine.",
            ),
            (
                for_all(VesselUse::Dirty) && chips,
                "/vessels",
                "Chips take no room in the vessels for dirty fluid.",
            ),
            (
                self.vessels_for(VesselUse::Chips).any(|(_, vessel)| vessel.usable().is_some())
                    && self.chip_density.is_none(),
                "/chip_density",
                "Vessels for chips were taken to be full by their rated load, not by volume.",
            ),
            (
                self.sumps.iter().any(|sump| sump.rinse.is_some()),
                "/sumps",
                "What sumps are rinsed with is at the machine, not in the vessels for clean fluid; it \
                 comes back in those for dirty fluid.",
            ),
            (
                self.mixing_dirty.is_none() && self.products().len() > 1,
                "/mixing_dirty",
                "Dirty fluids of different products are kept apart.",
            ),
            (
                self.products().len() > 1,
                "/times/washing_minutes",
                "What hoses and vessels are washed with between products is not counted.",
            ),
            (self.times.is_none(), "/times", "No times were given, so there are no hours."),
            (
                self.times.is_some(),
                "/times",
                "Whatever has no time of its own in the request takes none.",
            ),
        ];
        let about = about.into_iter().filter(|(applies, _, _)| *applies);
        about.map(|(_, pointer, text)| Assumption::new(pointer, text)).collect()
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
