//! What a forecast takes for granted.

use super::Forecast;
use super::feeding::{FeedStock, Feeding};
use super::plan::Planned;
use crate::fluid::practice::{self, read_with_pumps_off};
use crate::fluid::properties::{Name, TRAMP_OIL};
use crate::text::Assumption;

impl Forecast {
    pub(super) fn assumptions(&self, planned: &Planned) -> Vec<Assumption> {
        let mut assumptions = vec![Assumption::new(
            "",
            "Volumes add: a mix takes up what its parts took up. The sump was taken to be well \
             mixed at all times.",
        )];
        assumptions.push(read_with_pumps_off("/sump/volume"));
        let mut note = |pointer: &str, text: &str| {
            assumptions.push(Assumption::new(pointer.to_owned(), text.to_owned()));
        };
        note("/losses", "The losses were taken to stay what they are, idle days included.");
        if self.losses.depletion_ratio.is_none() {
            note("/losses/depletion_ratio", "What is carried off was taken to be fluid as it is.");
        }
        if planned.oil_followed {
            note(
                "/losses/carry_off",
                "Carry-off was counted as water-mix fluid alone; tramp oil goes along with it \
                 in proportion.",
            );
            if self.oil_leak.is_none() {
                note("/oil_leak", "The machine was taken to leak no oil.");
            }
        }
        if self.feeding.is_none() {
            note("/feeding", "Nobody was taken to feed the sump.");
        }
        if self.levels.and_then(|levels| levels.max).is_none() {
            note("/levels/max", "The sump's capacity was taken for the most it should hold.");
        }
        self.note_feeding(planned, &mut note);
        let oil = planned.oil_followed.then_some(TRAMP_OIL);
        for name in oil.into_iter().chain(planned.names.iter().map(Name::as_str)) {
            for pointer in self.silent_on(name) {
                note(&format!("{pointer}/{name}"), &format!("Taken to carry no {name}."));
            }
        }
        let weighed = self.densities.unwrap_or_default();
        if weighed.concentrate.is_none() || (planned.oil_followed && weighed.tramp_oil.is_none()) {
            let template = "What has no density of its own was taken to weigh what water weighs at \
                            {}, {}.";
            assumptions.push(Assumption::like_water("/densities", template));
        }
        assumptions.extend(practice::of_hardness(planned.names.iter().map(Name::as_str)));
        if let Some(reading) = &self.sump.reading {
            assumptions.extend(reading.assumptions("/sump/reading"));
        }
        assumptions
    }

    fn note_feeding(&self, planned: &Planned, note: &mut impl FnMut(&str, &str)) {
        let to = match &self.feeding {
            Some(Feeding::Below(below)) => below.to,
            Some(Feeding::Every(every)) => every.to,
            Some(Feeding::Always(always)) => {
                if always.rate.is_none() {
                    note(
                        "/feeding/rate",
                        "As much was taken to be fed as evaporates, is carried off and is \
                         discharged; oil that leaks in raises the level.",
                    );
                }
                None
            }
            None => None,
        };
        if matches!(self.feeding, Some(Feeding::Below(_) | Feeding::Every(_))) && to.is_none() {
            note("/feeding/to", "The sump was taken to be fed up to its capacity.");
        }
        let Some(FeedStock::WaterAndConcentrate(mixed)) = self.feeding.as_ref().map(Feeding::with)
        else {
            return;
        };
        if mixed.target.is_none() {
            note("/feeding/with/target", "The target of the band was aimed at.");
        }
        let own = mixed.concentrate.as_ref().map(|concentrate| &concentrate.properties);
        let Some(feed) = &planned.feed else {
            return;
        };
        for (name, milligrams) in planned.names.iter().zip(&feed.weak.matter) {
            if *milligrams > 0.0 && own.is_none_or(|own| !own.matter.contains_key(name)) {
                note(
                    &format!("/feeding/with/concentrate/properties/{name}"),
                    &format!(
                        "The concentrate was taken to bring as much {name} as the water it takes \
                         the place of."
                    ),
                );
            }
        }
    }
}
