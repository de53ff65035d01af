//! What the vessels of a round may not contradict themselves in.

use super::super::{Recharge, SumpToClean, Vessel, VesselUse};
use crate::quantity::Quantity;
use crate::sentence;
use crate::text::Faults;
use crate::text::names::check_unique;

impl Recharge {
    pub(super) fn check_vessels(&self, faults: &mut Faults) {
        let names = self.vessels.iter().flatten().map(|vessel| vessel.name.as_str());
        check_unique(names, "vessels", "/vessels", faults);
        for (i, vessel) in self.vessels.iter().flatten().enumerate() {
            let pointer = format!("/vessels/{i}");
            if vessel.usable_share.is_some_and(|share| share.get() == 0.0) {
                let detail = sentence!(
                    "A share of 0 leaves no room in this vessel. \
                     Give the share of it that is filled."
                );
                faults.add(format!("{pointer}/usable_share"), detail);
            }
            check_members(vessel, &pointer, faults);
        }
        let chips = self.sumps.iter().any(|sump| sump.chips() > 0.0);
        if chips && self.has_vessel_for(VesselUse::Chips) && self.hold_for_chips() == Some(0.0) {
            let detail = sentence!(
                "There are chips to fetch, but the vessels for chips may carry none. Give \
                     their rated load."
            );
            faults.add("/vessels", detail);
        }
    }

    /// What is known of what vessels for chips take; none where one of them does not say.
    fn hold_for_chips(&self) -> Option<f64> {
        let known = |vessel: &Vessel| {
            vessel.rated_load.is_some() || vessel.usable().is_some() && self.chip_density.is_some()
        };
        let all = self.vessels_for(VesselUse::Chips).all(|(_, vessel)| known(vessel));
        all.then(|| self.takes(VesselUse::Chips).map(|(_, takes)| takes).sum())
    }

    /// Every vessel must say how much it takes.
    pub(super) fn check_what_vessels_hold(&self, faults: &mut Faults) {
        for (i, vessel) in self.vessels.iter().flatten().enumerate() {
            if vessel.holds != VesselUse::Chips && vessel.capacity.is_none() {
                let detail = sentence!("The capacity of this vessel is missing.");
                faults.add(format!("/vessels/{i}/capacity"), detail);
            }
        }
        if self.hold_for_chips().is_none() && self.sumps.iter().any(|s| SumpToClean::chips(s) > 0.0)
        {
            let detail = sentence!(
                "What a vessel takes in chips is missing: give its rated load, or its \
                     capacity and what the chips weigh by volume (chip_density)."
            );
            let unknown = self.vessels_for(VesselUse::Chips).find(|(_, vessel)| {
                vessel.rated_load.is_none()
                    && (vessel.capacity.is_none() || self.chip_density.is_none())
            });
            let pointer = unknown
                .map_or_else(|| "/vessels".to_owned(), |(i, _)| format!("/vessels/{i}/rated_load"));
            faults.add(pointer, detail);
        }
    }
}

/// What is said of a vessel must be about what it is for.
fn check_members(vessel: &Vessel, pointer: &str, faults: &mut Faults) {
    let chips = vessel.holds == VesselUse::Chips;
    let out_of_place = [
        ("rated_load", vessel.rated_load.is_some() && !chips, "vessels for chips have one"),
        (
            "emptied_on_the_way",
            vessel.emptied_on_the_way.is_some() && !chips,
            "vessels for chips are emptied on the way",
        ),
        ("pump_rate", vessel.pump_rate.is_some() && chips, "fluid is pumped"),
        (
            "fill_minutes",
            vessel.fill_minutes.is_some() && vessel.holds != VesselUse::Clean,
            "vessels for clean fluid are filled before a trip",
        ),
        (
            "empty_minutes",
            vessel.empty_minutes.is_some() && vessel.holds == VesselUse::Clean,
            "vessels for dirty fluid and chips are emptied after a trip",
        ),
    ];
    for (member, wrong, why) in out_of_place {
        if wrong {
            let detail = sentence!("Only {}. Leave this out.", why);
            faults.add(format!("{pointer}/{member}"), detail);
        }
    }
}
