//! What a make-up takes for granted.

use super::MakeUp;
use super::rates::carried;
use crate::fluid::oil::{LEAKS_NONE, OIL_GOES_ALONG};
use crate::fluid::practice::{self, read_with_pumps_off};
use crate::fluid::properties::{PropertyName, TRAMP_OIL, spoken};
use crate::fluid::supply::MakeUpWater;
use crate::quantity::Measure;
use crate::sentence;
use crate::text::Assumption;

impl MakeUp {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mixed = sentence!(
            "The sump was assumed to be well mixed, and fed so often that its level hardly falls; \
             the balance is that of the first day."
        );
        let mut assumptions = vec![
            Assumption::volumes_add(),
            Assumption::new("", mixed),
            read_with_pumps_off("/sump/volume"),
        ];
        if let Some(days) = self.days_to_one_of_work() {
            let text = sentence!(
                "Days of work were taken to come evenly over the year, one in {} days, and each \
                 with its share of the days on which the machine stands. Fill up more after a long \
                 shutdown than after a weekend: to the level.",
                Measure::bare(days).rounded(3)
            );
            assumptions.push(Assumption::new("/calendar", text));
            if self.standing.is_none() {
                let text = sentence!(
                    "Nothing was assumed to evaporate on days on which the shop does not work."
                );
                assumptions.push(Assumption::new("/standing", text));
            }
        } else {
            let text =
                sentence!("The losses were assumed to be those of every day, idle days included.");
            assumptions.push(Assumption::new("/losses", text));
        }
        if self.losses.depletion_ratio.is_none() {
            assumptions.push(Assumption::carried_off_as_it_is());
        }
        assumptions.extend(self.losses.assumptions("/losses"));
        let names = self.names();
        if names.iter().any(|name| name == TRAMP_OIL) {
            assumptions.push(Assumption::new("/losses/carry_off", OIL_GOES_ALONG));
            if self.oil.is_none_or(|oil| oil.leak.is_none()) {
                assumptions.push(Assumption::new("/oil/leak", LEAKS_NONE));
            }
        }
        for name in &names {
            if carried(name, &self.sump.properties).is_none() {
                let text = sentence!(
                    "The sump was assumed to carry what the make-up carries of {}.",
                    spoken(name)
                );
                assumptions.push(Assumption::new(format!("/sump/properties/{name}"), text));
            }
            let of = |water: &Option<MakeUpWater>| {
                water.as_ref().and_then(|water| carried(name, &water.carries()))
            };
            let water = of(&self.water);
            if water.is_none() {
                let pointer = format!("/water/properties/{name}");
                assumptions.push(Assumption::carries_none(pointer, "water", &spoken(name)));
            }
            let own = self.concentrate.as_ref().and_then(|k| carried(name, &k.properties));
            if own.is_none() && water.is_some_and(|water| water > 0.0) {
                let pointer = format!("/concentrate/properties/{name}");
                assumptions.push(Assumption::brings_what_water_does(pointer, &spoken(name)));
            }
        }
        if self.deionised.is_none() && !self.limits.is_empty() {
            let text = sentence!("Deionised water was assumed to carry nothing.");
            assumptions.push(Assumption::new("/deionised", text));
        }
        assumptions.extend(practice::of_hardness(names.iter().map(PropertyName::as_str)));
        if self.densities.is_none_or(|densities| densities.concentrate.is_none()) {
            assumptions
                .push(Assumption::weighs_like_water("/densities/concentrate", "concentrate"));
        }
        assumptions
    }
}
