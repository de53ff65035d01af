//! What a projection takes for granted.

use super::Disposal;
use super::stream::WasteStream;
use super::terms::OnSiteTreatment;
use crate::text::Assumption;

impl Disposal {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = self.about_weights();
        let mut note = |pointer: &'static str, text: &'static str| {
            assumptions.push(Assumption::new(pointer, text));
        };
        note("", "Volumes add, and in sumps solids take up no room.");
        if self.solids_without_bulk_density() {
            note(
                "/streams",
                "In containers too solids take up no room where no bulk density is given: sludge \
                 and filter media then have the volume of the fluid in them, and containers are \
                 full later than they are.",
            );
        }
        note(
            "",
            "A month is a twelfth of a year of 365 days; days and months are counted from the start.",
        );
        note(
            "/groups",
            "Sumps are well mixed, lose evenly, and are topped up every day to their level and \
             strength; fluid that leaves with skimmings, sludge and filter media is made up.",
        );
        note(
            "/groups",
            "Changes fall at the end of their month; oil and matter of the fluid before count \
             until then.",
        );
        if self.months.is_none() {
            note("/months", "Twelve months ahead.");
        }
        if self.drum().is_none() {
            note(
                "/concentrate/drum",
                "Concentrate comes in bulk: as much is bought as is used, and no drums are left.",
            );
        }
        if self.recycler.is_some() {
            note(
                "/recycler",
                "Recovered fluid goes back into the sumps it came from, with all that is \
                 dissolved in it; a recycler takes out tramp oil and no salts.",
            );
        }
        self.note_treatment(&mut note);
        note(
            "/streams",
            "Unless the terms of a stream say otherwise, all count as hazardous waste but \
             permeate, what is carried off on chips, and empty drums.",
        );
        if self.storage.is_some() {
            note(
                "/storage",
                "The store is empty at the start. A pickup takes all that is kept, at the end of its day.",
            );
            if self.storage.and_then(|storage| storage.changes_fall).is_none() {
                note("/storage/changes_fall", "The changes of a month are spread over its days.");
            }
            self.note_rules(&mut note);
        } else {
            note(
                "/storage",
                "Without storage limits no pickups are planned; all is taken away as it arises.",
            );
        }
        if self.has_prices() {
            note("", "What has no price costs nothing.");
        }
        if self.sampling.is_some() {
            note(
                "/sampling",
                "Spreads are half-widths of what is equally likely in between; each group is \
                 drawn for itself, and pickups are not part of the bands' cost.",
            );
        }
        assumptions
    }

    /// What concentrate and oil were taken to weigh.
    fn about_weights(&self) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let mut weighs = |pointer: &'static str, template: &'static str| {
            assumptions.push(Assumption::like_water(pointer, template));
        };
        if self.concentrate.and_then(|concentrate| concentrate.density).is_none() {
            weighs("/concentrate/density", "The concentrate has the density of water at {}, {}.");
        }
        if self.has_tramp_oil() && self.oil_density.is_none() {
            weighs("/oil_density", "The tramp oil has the density of water at {}, {}.");
        }
        assumptions
    }

    fn note_rules(&self, note: &mut impl FnMut(&'static str, &'static str)) {
        let Some(storage) = self.storage else { return };
        if storage.rules.is_none() {
            note(
                "/storage/rules",
                "The pickups keep the shop's own limits only. A US generator has those of its \
                 category as well: ask for them by month.",
            );
            return;
        }
        note(
            "/storage/rules",
            "All that counts is hazardous waste, and no acute one. The limits of a month's \
             category hold for all that is on site on its days, and for its own waste until that \
             is gone. Months are twelfths of a year, not those of the calendar.",
        );
        if storage.facility_far_away.is_none() {
            note(
                "/storage/facility_far_away",
                "The facility that takes the waste is less than 200 miles away.",
            );
        }
        if self.facts.and_then(|facts| facts.presumption_rebutted) == Some(true) {
            note(
                "/facts/presumption_rebutted",
                "The presumption that the oil is hazardous waste was rebutted as 40 CFR \
                 279.10(b)(1)(ii) asks, and the proof is kept with the records.",
            );
        }
    }

    /// Whether solids are kept in a container without a word on the room they take.
    fn solids_without_bulk_density(&self) -> bool {
        self.streams.iter().flatten().any(|terms| {
            let solid = matches!(
                terms.stream,
                WasteStream::Sludge | WasteStream::FilterMedia | WasteStream::CarriedOff
            );
            solid && terms.container.is_some() && terms.bulk_density.is_none()
        })
    }

    fn note_treatment(&self, note: &mut impl FnMut(&'static str, &'static str)) {
        match &self.treatment {
            Some(OnSiteTreatment::Ultrafiltration(uf)) => {
                note(
                    "/treatment",
                    "Spent fluid and wash water are treated together, month by month. The \
                     membrane holds tramp oil back in full; what is dissolved passes with the \
                     water.",
                );
                if uf.concentrate_retained.is_none() {
                    note(
                        "/treatment/concentrate_retained",
                        "The membrane holds concentrate back in full; what of it is truly \
                         dissolved passes in practice.",
                    );
                }
            }
            Some(OnSiteTreatment::Evaporation(_)) => note(
                "/treatment",
                "Spent fluid and wash water are treated together, month by month. Nothing but \
                 water goes over; volatile parts of the concentrate do in practice.",
            ),
            None => {}
        }
    }
}
