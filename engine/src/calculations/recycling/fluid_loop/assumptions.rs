//! What was taken for granted of a loop.

use super::shop::Shop;
use super::{FluidLoop, SumpGroup};
use crate::fluid::practice;
use crate::fluid::properties::Name;
use crate::text::Assumption;

impl FluidLoop {
    pub(super) fn assumptions(&self, shop: &Shop, days: usize) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let mut note = |applies: bool, pointer: &'static str, text: &'static str| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        let any = |test: fn(&SumpGroup) -> bool| self.groups.iter().any(test);
        let cleaned = any(|group| group.clean_out.is_some());
        note(true, "", "Volumes add: a mix takes up what its parts took up.");
        note(true, "", "Sumps and tanks are well mixed, and all sumps take the same product.");
        note(
            true,
            "",
            "Make-up is fed as it is lost. Recycled fluid goes into refills first, into each by \
             the room it has.",
        );
        note(
            self.recycler.is_some() && any(|group| group.takes_recycled.is_none()),
            "/groups",
            "A group that does not say what it takes recycled fluid for takes it for refills only.",
        );
        note(cleaned, "/groups", "The clean-outs of a group are spread evenly over the days.");
        let odd = |group: &SumpGroup| group.interval().is_some_and(|days| days.fract() != 0.0);
        note(
            self.groups.iter().any(odd),
            "/groups",
            "An interval between clean-outs was rounded to whole days; a month is a twelfth of 365 \
             days.",
        );
        note(
            any(|group| group.losses.depletion_ratio.is_none()),
            "/groups",
            "Where no depletion ratio is given, concentrate is carried off as its share.",
        );
        note(
            cleaned && any(|group| group.clean_out.is_some() && group.residue() == 0.0),
            "/groups",
            "Where no residue is given, a clean-out empties the sump.",
        );
        note(
            days > 0 && any(|group| group.carries_now.is_none()),
            "/groups",
            "A group that does not say what it carries now starts with freshly mixed fluid.",
        );
        note(
            self.recycler.is_none() && cleaned,
            "/recycler",
            "Nothing is recycled: all that is drained is disposed of.",
        );
        note(
            self.recycler.as_ref().is_some_and(|recycler| recycler.share.is_none()),
            "/recycler/share",
            "All that the dirty tank gives goes through the recycler.",
        );
        note(
            self.recycler.is_some() && self.tanks.is_none() && days > 0,
            "/tanks",
            "The tanks hold nothing from one day to the next.",
        );
        note(
            self.tanks
                .iter()
                .flat_map(|t| t.dirty.iter().chain(&t.clean))
                .any(|t| t.holds.is_none()),
            "/tanks",
            "A tank that does not say what it holds on to is half full.",
        );
        note(
            self.water.deionised.is_none() && !shop.names.is_empty(),
            "/water/deionised",
            "Deionised water, where it is asked what it could do, carries nothing of what is \
             followed.",
        );
        note(
            self.days.is_none(),
            "/days",
            "A year of the way there is told, or as much of it as a \
             shop of this size allows.",
        );
        assumptions.extend(practice::of_hardness(shop.names.iter().map(Name::as_str)));
        assumptions.extend(self.about_weights(shop));
        assumptions.extend(self.about_sources(shop));
        assumptions
    }

    /// What fluid, oil and matter were taken to weigh.
    fn about_weights(&self, shop: &Shop) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let mut note = |applies: bool, pointer: &'static str, template: &'static str| {
            if applies {
                assumptions.push(Assumption::like_water(pointer, template));
            }
        };
        note(
            self.concentrate.as_ref().is_none_or(|concentrate| concentrate.density.is_none()),
            "/concentrate/density",
            "Concentrate: density of water at {}, {}.",
        );
        note(
            self.oil_density.is_none() && shop.oil,
            "/oil_density",
            "Tramp oil: density of water at {}, {}.",
        );
        note(
            !shop.names.is_empty(),
            "",
            "Dissolved and suspended matter weighs what its content says, on top of the water at \
             {} and {}, and takes no room.",
        );
        assumptions
    }

    /// What water and concentrate were taken to be free of.
    fn about_sources(&self, shop: &Shop) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let concentrate = self.concentrate.as_ref().map(|concentrate| &concentrate.properties);
        for name in &shop.names {
            if !self.water.properties.matter.contains_key(name) {
                let pointer = format!("/water/properties/{name}");
                assumptions.push(Assumption::new(pointer, format!("Water carries no {name}.")));
            }
            if concentrate.is_none_or(|properties| !properties.matter.contains_key(name)) {
                let pointer = format!("/concentrate/properties/{name}");
                let text = format!("Concentrate carries no {name}.");
                assumptions.push(Assumption::new(pointer, text));
            }
        }
        assumptions
    }
}
