//! What was taken for granted of a loop.

use super::shop::LoopShop;
use super::{FluidLoop, SumpGroup};
use crate::fluid::hardness;
use crate::fluid::loss_rates::assumptions_of_many;
use crate::fluid::practice;
use crate::fluid::properties::{PropertyName, spoken};
use crate::handbook::water::DENSITY_AT_20_CELSIUS;
use crate::quantity::{Count, Density, Quantity, Temperature};
use crate::sentence;
use crate::text::{Assumption, Sentence};

impl FluidLoop {
    pub(super) fn assumptions(&self, shop: &LoopShop, days: usize) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::volumes_add()];
        let mut note = |applies: bool, pointer: &'static str, text: Sentence| {
            if applies {
                assumptions.push(Assumption::new(pointer, text));
            }
        };
        note(
            true,
            "",
            sentence!("Sumps and tanks are well mixed, and all sumps take the same product."),
        );
        note(
            true,
            "",
            sentence!(
                "Make-up is fed as it is lost. Recycled fluid goes into refills first, into each \
                 by the room it has."
            ),
        );
        self.about_groups(days, &mut note);
        self.about_recycler(days, &mut note);
        note(
            self.water.deionised.is_none() && !shop.names.is_empty(),
            "/water/deionised",
            sentence!(
                "Deionised water, where it is asked what it could do, carries none of what is \
                 followed."
            ),
        );
        note(self.days.is_none(), "/days", days_by_default(days));
        assumptions.extend(practice::of_hardness(shop.names.iter().map(PropertyName::as_str)));
        assumptions.extend(self.about_weights(shop));
        assumptions.extend(self.about_sources(shop));
        let losses = self.groups.iter().map(|group| &group.losses).enumerate();
        assumptions.extend(assumptions_of_many(losses, |g| format!("/groups/{g}/losses")));
        let followed = self.followed();
        assumptions.extend(self.sheet.iter().flat_map(|sheet| sheet.assumptions(&followed)));
        assumptions
    }

    fn about_groups(&self, days: usize, note: &mut impl FnMut(bool, &'static str, Sentence)) {
        const AT: &str = "/groups";
        let any = |test: fn(&SumpGroup) -> bool| self.groups.iter().any(test);
        let cleaned = any(|group| group.clean_out.is_some());
        note(
            self.recycler.is_some() && any(|group| group.takes_recycled.is_none()),
            AT,
            sentence!(
                "A group that does not say what it takes recycled fluid for takes it for refills \
                 only."
            ),
        );
        note(cleaned, AT, sentence!("The clean-outs of a group are spread evenly over the days."));
        note(
            any(|group| group.interval().is_some_and(|days| days.fract() != 0.0)),
            AT,
            sentence!(
                "Clean-out intervals were rounded to whole days; a month is a twelfth of 365 days."
            ),
        );
        note(
            any(|group| group.losses.depletion_ratio.is_none()),
            AT,
            sentence!(
                "Where no depletion ratio is given, concentrate is carried off as its share."
            ),
        );
        note(
            cleaned && any(|group| group.clean_out.is_some() && group.residue() == 0.0),
            AT,
            sentence!("Where no residue is given, a clean-out empties the sump."),
        );
        note(
            days > 0 && any(|group| group.carries_now.is_none()),
            AT,
            sentence!(
                "A group that does not say what it carries now starts with freshly mixed fluid."
            ),
        );
    }

    fn about_recycler(&self, days: usize, note: &mut impl FnMut(bool, &'static str, Sentence)) {
        let cleaned = self.groups.iter().any(|group| group.clean_out.is_some());
        note(
            self.recycler.is_none() && cleaned,
            "/recycler",
            sentence!("None of the fluid is recycled: all that is drained is disposed of."),
        );
        note(
            self.recycler.as_ref().is_some_and(|recycler| recycler.share.is_none()),
            "/recycler/share",
            sentence!("All of the returned fluid goes through the recycler."),
        );
        note(
            self.recycler.is_some() && self.tanks.is_none() && days > 0,
            "/tanks",
            sentence!("The tanks hold no fluid from one day to the next."),
        );
        let mut tanks = self.tanks.iter().flat_map(|tanks| tanks.dirty.iter().chain(&tanks.clean));
        note(
            tanks.any(|tank| tank.holds.is_none()),
            "/tanks",
            sentence!("A tank that does not say what it holds on to is half full."),
        );
    }

    /// What fluid, oil and matter were taken to weigh.
    fn about_weights(&self, shop: &LoopShop) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        if self.concentrate.as_ref().is_none_or(|concentrate| concentrate.density.is_none()) {
            let pointer = "/concentrate/density";
            assumptions.push(Assumption::weighs_like_water(pointer, "Concentrate"));
        }
        if self.oil_density.is_none() && shop.oil {
            assumptions.push(Assumption::weighs_like_water("/oil_density", "Tramp oil"));
        }
        if !shop.names.is_empty() {
            let text = sentence!(
                "Dissolved and suspended matter weighs what its content says, on top of the water \
                 at {} and {}, and takes no room.",
                Temperature::measure_of(20.0),
                Density::measure_of(DENSITY_AT_20_CELSIUS).rounded(7)
            );
            assumptions.push(Assumption::new("", text));
        }
        assumptions
    }

    /// What water and concentrate were taken to be free of.
    fn about_sources(&self, shop: &LoopShop) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let concentrate = self.concentrate.as_ref().map(|concentrate| &concentrate.properties);
        for name in &shop.names {
            if !hardness::names(&self.water.properties, self.water.hardness).any(|own| own == name)
            {
                let pointer = format!("/water/properties/{name}");
                assumptions.push(Assumption::carries_none(pointer, "Water", &spoken(name)));
            }
            if concentrate.is_none_or(|properties| !properties.matter.contains_key(name)) {
                let pointer = format!("/concentrate/properties/{name}");
                assumptions.push(Assumption::carries_none(pointer, "Concentrate", &spoken(name)));
            }
        }
        assumptions
    }
}

fn days_by_default(days: usize) -> Sentence {
    let days = Count::from_usize(days).map_or(0.0, Quantity::get);
    sentence!("The way to steady state is followed for {} days.", Count::measure_of(days))
}
