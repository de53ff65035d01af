//! What a forecast takes for granted.

use super::plan::Planned;
use super::{FeedStock, Feeding, Forecast};
use crate::fluid::oil::{LEAKS_NONE, OIL_GOES_ALONG};
use crate::fluid::practice::{self, read_with_pumps_off};
use crate::fluid::properties::{PropertyName, TRAMP_OIL, spoken};
use crate::text::Assumption;

impl Forecast {
    pub(super) fn assumptions(&self, planned: &Planned) -> Vec<Assumption> {
        let mut assumptions = vec![
            Assumption::volumes_add(),
            Assumption::new("", "The sump was assumed to be well mixed at all times."),
            read_with_pumps_off("/sump/volume"),
        ];
        let mut note = |pointer, text: &'static str| {
            assumptions.push(Assumption::new(pointer, text));
        };
        if self.calendar.is_some() {
            note(
                "/losses",
                "The losses were assumed to be the same on every day of work, and spread evenly \
                 over it.",
            );
            if self.standing.is_none() {
                note(
                    "/standing",
                    "Nothing was assumed to evaporate on days on which the shop does not work.",
                );
            }
        } else {
            note("/losses", "The losses were assumed to stay as they are, idle days included.");
        }
        if planned.oil_followed {
            note("/losses/carry_off", OIL_GOES_ALONG);
            if self.oil.is_none_or(|oil| oil.leak.is_none()) {
                note("/oil/leak", LEAKS_NONE);
            }
        }
        if self.feeding.is_none() {
            note("/feeding", "The sump was assumed not to be fed.");
        }
        if self.levels.and_then(|levels| levels.max).is_none() {
            note("/levels/max", "The highest level was assumed to be the sump's capacity.");
        }
        if self.losses.depletion_ratio.is_none() {
            assumptions.push(Assumption::carried_off_as_it_is());
        }
        assumptions.extend(self.of_feeding());
        assumptions.extend(self.of_concentrate(planned));
        let oil = planned.oil_followed.then_some(TRAMP_OIL);
        for name in oil.into_iter().chain(planned.names.iter().map(PropertyName::as_str)) {
            for (pointer, what) in self.silent_on(name) {
                let pointer = format!("{pointer}/{name}");
                assumptions.push(Assumption::carries_none(pointer, what, &spoken(name)));
            }
        }
        let weighed = self.densities.unwrap_or_default();
        if weighed.concentrate.is_none() {
            let pointer = "/densities/concentrate";
            assumptions.push(Assumption::weighs_like_water(pointer, "concentrate"));
        }
        if planned.oil_followed && weighed.tramp_oil.is_none() {
            let pointer = "/densities/tramp_oil";
            assumptions.push(Assumption::weighs_like_water(pointer, "tramp oil"));
        }
        assumptions.extend(practice::of_hardness(planned.names.iter().map(PropertyName::as_str)));
        assumptions.extend(self.losses.assumptions("/losses"));
        assumptions.extend(self.sheet.iter().flat_map(|sheet| sheet.assumptions(&self.known())));
        if let Some(reading) = &self.sump.reading {
            assumptions.extend(reading.assumptions("/sump/reading"));
        }
        assumptions
    }

    /// What was not said of how the sump is fed.
    fn of_feeding(&self) -> Vec<Assumption> {
        let Some(feeding) = &self.feeding else { return Vec::new() };
        let up_to = match feeding {
            Feeding::Below(below) => below.to.is_none(),
            Feeding::Every(every) => every.to.is_none(),
            Feeding::Always(_) => false,
        };
        let steady = matches!(feeding, Feeding::Always(always) if always.rate.is_none());
        let with = feeding.with();
        let target =
            matches!(with, FeedStock::WaterAndConcentrate(mixed) if mixed.target.is_none());
        let assumed = [
            (
                steady,
                "/feeding/rate",
                "The sump was assumed to be fed as much as evaporates, is carried off and is \
                 drained off; oil that leaks in raises the level.",
            ),
            (up_to, "/feeding/to", "The sump was assumed to be fed up to its capacity."),
            (
                target,
                "/feeding/with/target",
                "The target of the band was assumed to be the strength to feed to.",
            ),
        ];
        let assumed = assumed.into_iter().filter(|(is_assumed, ..)| *is_assumed);
        assumed.map(|(_, pointer, text)| Assumption::new(pointer, text)).collect()
    }

    /// What the concentrate was assumed to bring.
    fn of_concentrate(&self, planned: &Planned) -> Vec<Assumption> {
        let with = self.feeding.as_ref().map(Feeding::with);
        let (Some(FeedStock::WaterAndConcentrate(mixed)), Some(feed)) = (with, &planned.feed)
        else {
            return Vec::new();
        };
        let own = mixed.concentrate.as_ref().map(|concentrate| &concentrate.properties);
        let by_water = planned.names.iter().zip(&feed.weak.matter).filter(|(name, milligrams)| {
            **milligrams > 0.0 && own.is_none_or(|own| !own.matter.contains_key(*name))
        });
        let assumed = by_water.map(|(name, _)| {
            let pointer = format!("/feeding/with/concentrate/properties/{name}");
            Assumption::brings_what_water_does(pointer, &spoken(name))
        });
        assumed.collect()
    }
}
