//! What a calendar takes for granted because the request did not say.

use super::question::Calendar;
use super::unit::YEARLY;
use crate::quantity::{Days, Quantity};
use crate::sentence;
use crate::text::{Assumption, Sentence, density_of_water};

impl Calendar {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let mut note = |applies: bool, pointer: &'static str, text: Sentence| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        note(
            true,
            "/sumps",
            sentence!(
                "A clean-out was assumed to be done by one crew on one day, and all of the volume to be \
                 drained and filled in anew."
            ),
        );
        note(
            self.sumps.iter().any(|sump| sump.longest_days.is_none()),
            "/sumps",
            sentence!(
                "A sump without a longest interval was assumed to need a clean-out every {} (DGUV Regel \
                 109-003, Annex 5).",
                Days::measure_of(YEARLY)
            ),
        );
        note(
            self.sumps.iter().any(|sump| sump.stands_on.is_none()),
            "/sumps",
            sentence!("A machine that does not say otherwise was assumed to stand at weekends."),
        );
        note(
            self.sumps.iter().any(|sump| sump.product.is_none()),
            "/sumps",
            sentence!("Fresh fluid of a sump without a product was assumed to cost nothing."),
        );
        note(
            self.crews.iter().any(|crew| crew.price.is_none()),
            "/crews",
            sentence!("The work of a crew without a price was assumed to cost nothing."),
        );
        note(
            self.waste.is_some_and(|waste| waste.density.is_none()),
            "/waste/density",
            sentence!("Spent fluid was assumed to have the {}.", density_of_water()),
        );
        note(
            self.waste.is_none(),
            "/waste",
            sentence!("Waste was assumed to cost nothing and to have no limit."),
        );
        note(
            self.recycler.is_none(),
            "/recycler",
            sentence!("All drained fluid was assumed to be waste."),
        );
        note(
            self.has_recycler(),
            "/recycler/recovered",
            sentence!("What is recovered was assumed to save as much fresh fluid."),
        );
        assumptions
    }
}
