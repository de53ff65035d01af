//! What a plan takes for granted because the request did not say.

use super::batches::USUAL_TOLERANCE;
use super::mixed::Mixed;
use super::{Recharge, SumpToClean, VesselUse};
use crate::fluid::practice::PREMIX_AT_MOST;
use crate::fluid::stock::{self, Stock};
use crate::quantity::{Brix, Concentration, Measure, Quantity};
use crate::sentence;
use crate::text::{Assumption, Sentence, density_of_water};

impl Recharge {
    pub(super) fn assumptions(&self, stocks: &[Stock], batches: &[Mixed]) -> Vec<Assumption> {
        let mut assumptions = stock::assumptions(stocks);
        let text = sentence!("Old fluid was assumed to have the {}.", density_of_water());
        assumptions.push(Assumption::new("/sumps", text));
        assumptions.extend(self.about_sumps());
        let mut note = |applies: bool, pointer: &'static str, text: Sentence| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        note(
            self.strength_tolerance.is_none() && self.sumps.len() > 1,
            "/strength_tolerance",
            sentence!(
                "Refills of one product within {} points of strength were assumed to share a batch.",
                Measure::bare(USUAL_TOLERANCE)
            ),
        );
        note(
            batches.iter().any(|batch| batch.sumps.len() > 1),
            "/strength_tolerance",
            sentence!(
                "A shared batch is halfway between the strongest and the weakest refill that it is \
                 for."
            ),
        );
        note(
            batches.iter().any(|batch| batch.mark(self).is_some()),
            "/sumps",
            sentence!(
                "The water of the batches was assumed to read {} on the refractometer.",
                Brix::measure_of(0.0)
            ),
        );
        if self.premix_at_most.is_none() {
            let text = sentence!(
                "A mix of {} was assumed to be the strongest that goes into a sump. The fluid's own \
                 sheet goes first.",
                Concentration::measure_of(PREMIX_AT_MOST)
            );
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
                sentence!(
                    "Old fluid was assumed to be well mixed in the part that is taken out, and a rinse to \
                 mix well with the residue."
                ),
            ),
            (
                any(|sump| sump.residue.is_none()),
                sentence!(
                    "A sump that does not say what stays in it was assumed to be emptied to the last drop."
                ),
            ),
            (
                any(|sump| sump.stays() > 0.0 && sump.residue_concentration.is_none()),
                sentence!(
                    "A residue that does not say how strong it is was assumed to be as strong as the fluid \
                 now, or as the target where that is not said either."
                ),
            ),
            (
                any(|sump| sump.fluid_now.is_none()),
                sentence!(
                    "A sump that does not say what is in it now was assumed to be full to its working level \
                 with what its residue is."
                ),
            ),
            (
                any(|sump| {
                    sump.pumped_properties() == sump.left_properties()
                        && !sump.left_properties().is_empty()
                }),
                sentence!(
                    "Where only one of the two says what it carries, the residue and the fluid above it \
                 carry the same."
                ),
            ),
            (
                any(|sump| sump.cleaner.is_some()),
                sentence!(
                    "System cleaner was assumed to mix with all of the old fluid, the residue too. In the \
                 balance it counts as water."
                ),
            ),
            (
                any(|sump| sump.chips() > 0.0),
                sentence!("Chips were assumed to come along evenly with what is taken out."),
            ),
        ];
        let about = about.into_iter().filter(|(applies, _)| *applies);
        about.map(|(_, text)| Assumption::new("/sumps", text)).collect()
    }

    fn about_trips(&self) -> Vec<Assumption> {
        if self.vessels.is_none() {
            let text = sentence!("No vessels were given, so there are no trips and no hours.");
            return vec![Assumption::new("/vessels", text)];
        }
        let for_all = |of: VesselUse| self.has_vessel_for(of);
        let chips = self.sumps.iter().any(|sump| sump.chips() > 0.0);
        let about = [
            (
                true,
                "/vessels",
                sentence!(
                    "All vessels go along on every trip, and a trip carries one batch. Only a sump larger \
                 than the vessels takes several trips; its full loads travel alone, dirty ones before \
                 clean ones, and the rest of it on one trip."
                ),
            ),
            (
                !for_all(VesselUse::Clean),
                "/vessels",
                sentence!(
                    "No vessel is for clean fluid: sumps are refilled from a line at the machine."
                ),
            ),
            (
                !for_all(VesselUse::Dirty),
                "/vessels",
                sentence!(
                    "No vessel is for dirty fluid: it is taken away from the machine otherwise."
                ),
            ),
            (
                chips && !for_all(VesselUse::Chips),
                "/vessels",
                sentence!("No vessel is for chips: they go into a bin at the machine."),
            ),
            (
                for_all(VesselUse::Dirty) && chips,
                "/vessels",
                sentence!("Chips take no room in the vessels for dirty fluid."),
            ),
            (
                self.vessels_for(VesselUse::Chips).any(|(_, vessel)| vessel.usable().is_some())
                    && self.chip_density.is_none(),
                "/chip_density",
                sentence!(
                    "Vessels for chips were assumed to be full by their rated load, not by volume."
                ),
            ),
            (
                self.sumps.iter().any(|sump| sump.rinse.is_some()),
                "/sumps",
                sentence!(
                    "What sumps are rinsed with is at the machine, not in the vessels for clean fluid; it \
                 comes back in those for dirty fluid."
                ),
            ),
            (
                self.mixing_dirty.is_none() && self.products().len() > 1,
                "/mixing_dirty",
                sentence!("Dirty fluids of different products are kept apart."),
            ),
            (
                self.products().len() > 1,
                "/times/washing_minutes",
                sentence!(
                    "What hoses and vessels are washed with between products is not counted."
                ),
            ),
            (
                self.times.is_none(),
                "/times",
                sentence!("No times were given, so there are no hours."),
            ),
            (
                self.times.is_some(),
                "/times",
                sentence!("Work that has no time in the request was assumed to take none."),
            ),
        ];
        let about = about.into_iter().filter(|(applies, _, _)| *applies);
        about.map(|(_, pointer, text)| Assumption::new(pointer, text)).collect()
    }

    /// What was taken for granted of stocks and their products.
    fn about_stocks(&self) -> Vec<Assumption> {
        let products = self.products();
        let about = self.stocks.iter().enumerate().filter_map(|(s, stock)| {
            let (pointer, name) = (format!("/stocks/{s}/product"), &stock.name);
            let text = match &stock.product {
                None if stock.is_more_than_water() => {
                    sentence!("{}: was assumed to be of the one product of the round.", name)
                }
                None => sentence!("{}: was assumed to go with every product.", name),
                Some(product) if !products.contains(&product.as_str()) => {
                    sentence!("{}: is not used; no sump of the round takes its product.", name)
                }
                Some(_) => return None,
            };
            Some(Assumption::new(pointer, text))
        });
        about.collect()
    }
}
