//! What a projection takes for granted.

use super::Disposal;
use super::terms::OnSiteTreatment;
use crate::calculation::Assumption;

impl Disposal {
    /// `above_rules` is whether a month is of a higher category than the storage
    /// rules are made for.
    pub(super) fn assumptions(&self, above_rules: bool) -> Vec<Assumption> {
        let mut assumptions = self.about_weights();
        let mut note = |pointer: &'static str, text: &'static str| {
            assumptions.push(Assumption::new(pointer, text));
        };
        note(
            "",
            "Volumes add, and solids take up no room: sludge and filter media have the volume of \
             the fluid in them.",
        );
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
            if above_rules {
                note(
                    "/storage/rules",
                    "The pickups keep the rules that were asked for, though the counted mass of \
                     some months is of a higher generator category, for which stricter rules hold.",
                );
            }
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
