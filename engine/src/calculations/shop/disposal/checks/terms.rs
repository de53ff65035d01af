//! Contradictions in terms, storage and treatment.

use super::super::{Disposal, WasteContainer, WasteStorage, WasteStream};
use crate::quantity::{Quantity, Ratio};
use crate::sentence;
use crate::text::Faults;

/// Above this much of total halogens, ppm, used oil is presumed to be hazardous
/// waste (40 CFR 279.10).
const HALOGENS_MOST: f64 = 1000.0;

impl Disposal {
    pub(super) fn check_term_ranges(&self, faults: &mut Faults) {
        if self.treatment.is_some_and(|treatment| treatment.volume_reduction() < 1.0) {
            let detail = sentence!(
                "A volume reduction is at least 1: the feed is never less than what is left of \
                 it."
            );
            faults.add("/treatment/volume_reduction", detail);
        }
        for (i, terms) in self.streams.iter().flatten().enumerate() {
            if let Some(container) = &terms.container {
                container.check_ranges(&format!("/streams/{i}/container"), faults);
            }
        }
        if let Some(storage) = &self.storage {
            if storage.days.is_some_and(|days| days.get() < 1.0) {
                let detail = sentence!(
                    "Waste that may stay less than a day cannot be planned for by the day. Allow \
                     at least one."
                );
                faults.add("/storage/days", detail);
            }
            if storage.mass.is_some_and(|mass| mass.get() == 0.0) {
                let detail = sentence!(
                    "A limit of 0 leaves no room for waste that waits for a pickup. Leave the \
                     storage out, or say how much may be there."
                );
                faults.add("/storage/mass", detail);
            }
        }
    }

    pub(super) fn check_terms(&self, faults: &mut Faults) {
        let streams = self.streams.as_deref().unwrap_or_default();
        for (i, terms) in streams.iter().enumerate() {
            if streams[..i].iter().any(|before| before.stream == terms.stream) {
                let detail = sentence!("The terms of this stream are given twice. Give them once.");
                faults.add(format!("/streams/{i}/stream"), detail);
            }
            if terms.container.as_ref().is_some_and(WasteContainer::has_no_size) {
                let detail = sentence!(
                    "The size of the container is missing. Give its volume, the mass it may hold, \
                     or both."
                );
                faults.add(format!("/streams/{i}/container"), detail);
            }
            if terms.container.is_none() && terms.price_per_container.is_some() {
                let detail = sentence!(
                    "A price for each container is given, but no container. Give one, or a price \
                     by volume or mass."
                );
                faults.add(format!("/streams/{i}/price_per_container"), detail);
            }
            self.check_used_oil(i, terms.stream, terms.counts, faults);
        }
        let without = |storage: &WasteStorage| {
            storage.rules.is_none() && storage.mass.is_none() && storage.days.is_none()
        };
        if self.storage.as_ref().is_some_and(without) {
            let detail = sentence!(
                "No storage limit is given. Give the rules, by month or of a generator category, \
                 a mass, days, or leave it out."
            );
            faults.add("/storage", detail);
        }
        let far =
            |storage: &WasteStorage| storage.facility_far_away.is_some() && storage.rules.is_none();
        if self.storage.as_ref().is_some_and(far) {
            let detail = sentence!(
                "The distance of the facility matters under published rules only. Give the rules, \
                 or leave it out."
            );
            faults.add("/storage/facility_far_away", detail);
        }
        if self.storage.is_none() && self.pickup_price.is_some() {
            let detail = sentence!(
                "Pickups have a price, but without storage limits none are planned. Give the \
                 storage limits, or a price by volume, mass or container."
            );
            faults.add("/pickup_price", detail);
        }
    }

    /// Oil that is presumed to be hazardous cannot be left out as used oil.
    fn check_used_oil(
        &self,
        i: usize,
        stream: WasteStream,
        counts: Option<bool>,
        faults: &mut Faults,
    ) {
        let halogens = self.facts.and_then(|facts| facts.oil_halogens_ppm);
        let Some(halogens) = halogens.map(Quantity::get).filter(|ppm| *ppm > HALOGENS_MOST) else {
            return;
        };
        if self.facts.and_then(|facts| facts.presumption_rebutted) == Some(true) {
            return;
        }
        if stream == WasteStream::OilPhase && counts == Some(false) {
            let detail = sentence!(
                "Used oil with {} ppm of total halogens, more than {}, is presumed to be \
                 hazardous waste (40 CFR 279.10(b)(1)(ii)) and is counted. Let it count, or say \
                 that the presumption has been rebutted, where it has, and keep the proof.",
                Ratio::measure_of(halogens),
                Ratio::measure_of(HALOGENS_MOST)
            );
            faults.add(format!("/streams/{i}/counts"), detail);
        }
    }
}

impl WasteContainer {
    fn check_ranges(&self, at: &str, faults: &mut Faults) {
        if self.fill.is_some_and(|fill| fill.get() == 0.0) {
            let detail = sentence!(
                "A container must be filled to more than 0 %. Give how full it is filled."
            );
            faults.add(format!("{at}/fill"), detail);
        }
        if self.mass.is_some_and(|mass| mass.get() == 0.0) {
            let detail = sentence!(
                "The greatest mass in a container must be more than 0. Give the mass it may hold, \
                 or leave it out."
            );
            faults.add(format!("{at}/mass"), detail);
        }
    }

    const fn has_no_size(&self) -> bool {
        self.volume.is_none() && self.mass.is_none()
    }
}
