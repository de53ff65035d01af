//! What a projection takes for granted.

use super::{Disposal, OnSiteTreatment, WasteStream};
use crate::fluid::loss_rates::assumptions_of_many;
use crate::sentence;
use crate::text::{Assumption, Sentence};

impl Disposal {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = self.about_weights();
        assumptions.push(Assumption::volumes_add());
        let mut note =
            |pointer: &'static str, text| assumptions.push(Assumption::new(pointer, text));
        note("", sentence!("In sumps solids take up no room."));
        if self.solids_without_bulk_density() {
            let text = sentence!(
                "Where no bulk density is given, solids take up no room in containers: sludge and \
                 filter media then have the volume of the fluid in them, and containers fill up \
                 earlier than is said here."
            );
            note("/streams", text);
        }
        self.note_sumps(&mut note);
        note(
            "/streams",
            sentence!(
                "Unless the terms of a stream say otherwise, all count as hazardous waste but \
                 permeate, what is carried off on chips, and empty drums."
            ),
        );
        self.note_storage(&mut note);
        if self.has_prices() {
            note("", sentence!("What has no price costs 0."));
        }
        if self.sampling.is_some() {
            let text = sentence!(
                "Anything within a spread is equally likely; each group is drawn by itself, and \
                 pickups are not part of the bands' cost."
            );
            note("/sampling", text);
        }
        let losses = self.groups.iter().map(|group| &group.losses).enumerate();
        assumptions.extend(assumptions_of_many(losses, |g| format!("/groups/{g}/losses")));
        assumptions
    }

    /// What concentrate and oil were taken to weigh.
    fn about_weights(&self) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let mut weighs =
            |pointer, name| assumptions.push(Assumption::weighs_like_water(pointer, name));
        if self.concentrate.and_then(|concentrate| concentrate.density).is_none() {
            weighs("/concentrate/density", "concentrate");
        }
        if self.has_tramp_oil() && self.oil_density.is_none() {
            weighs("/oil_density", "tramp oil");
        }
        assumptions
    }

    fn note_calendar(&self, note: &mut impl FnMut(&'static str, Sentence)) {
        if self.calendar.is_none() {
            let text = sentence!("The losses are the same on every day, idle days included.");
            note("/calendar", text);
            return;
        }
        note(
            "/calendar",
            sentence!(
                "A month has the losses and the oil of its days of work, spread evenly over it; \
                 fines, running hours, wash water and the life of filter media are by the month as \
                 they are given."
            ),
        );
        if self.groups.iter().any(|group| group.standing.is_none()) {
            let text = sentence!(
                "Where what evaporates while a machine stands is not given, nothing does."
            );
            note("/groups", text);
        }
    }

    fn note_sumps(&self, note: &mut impl FnMut(&'static str, Sentence)) {
        note(
            "",
            sentence!(
                "A month is a twelfth of a year of 365 days; days and months are counted from the \
                 start."
            ),
        );
        self.note_calendar(note);
        note(
            "/groups",
            sentence!(
                "Sumps are well mixed, lose evenly, and are topped up every day to their level \
                 and concentration; fluid that leaves with skimmings, sludge and filter media is \
                 made up."
            ),
        );
        note(
            "/groups",
            sentence!(
                "Changes fall at the end of their month; oil and matter of the fluid before count \
                 until then."
            ),
        );
        if self.months.is_none() {
            note("/months", sentence!("Twelve months ahead."));
        }
        if self.drum().is_none() {
            let text = sentence!(
                "Concentrate comes in bulk: as much is bought as is used, and no drums are left."
            );
            note("/concentrate/drum", text);
        }
        if self.recycler.is_some() {
            let text = sentence!(
                "Recovered fluid goes back into the sumps it came from, with all that is \
                 dissolved in it; a recycler takes out tramp oil and no salts."
            );
            note("/recycler", text);
        }
        self.note_treatment(note);
    }

    fn note_treatment(&self, note: &mut impl FnMut(&'static str, Sentence)) {
        match &self.treatment {
            Some(OnSiteTreatment::Ultrafiltration(uf)) => {
                let text = sentence!(
                    "Spent fluid and wash water are treated together, month by month. The \
                     membrane holds all tramp oil back; what is dissolved passes with the water."
                );
                note("/treatment", text);
                if uf.concentrate_retained.is_none() {
                    let text = sentence!(
                        "The membrane holds all concentrate back; in practice, what of it is \
                         truly dissolved passes."
                    );
                    note("/treatment/concentrate_retained", text);
                }
            }
            Some(OnSiteTreatment::Evaporation(_)) => note(
                "/treatment",
                sentence!(
                    "Spent fluid and wash water are treated together, month by month. Only water \
                     goes over; in practice, volatile parts of the concentrate do too."
                ),
            ),
            None => {}
        }
    }

    fn note_storage(&self, note: &mut impl FnMut(&'static str, Sentence)) {
        let Some(storage) = self.storage else {
            let text = sentence!(
                "Without storage limits no pickups are planned; all is taken away as it arises."
            );
            return note("/storage", text);
        };
        note(
            "/storage",
            sentence!(
                "The store is empty at the start. A pickup takes all that is kept, at the end of \
                 its day."
            ),
        );
        if storage.changes_fall.is_none() {
            let text = sentence!("The changes of a month are spread over its days.");
            note("/storage/changes_fall", text);
        }
        if storage.rules.is_none() {
            let text = sentence!(
                "The pickups keep the shop's own limits only. A US generator has those of its \
                 category as well: ask for them by month."
            );
            return note("/storage/rules", text);
        }
        note(
            "/storage/rules",
            sentence!(
                "All that counts is hazardous waste, and no acute one. The limits of a month's \
                 category hold for all that is on site on its days, and for its own waste until \
                 that is gone. Months are twelfths of a year, not those of the calendar."
            ),
        );
        if storage.facility_far_away.is_none() {
            let text = sentence!("The facility that takes the waste is less than 200 miles away.");
            note("/storage/facility_far_away", text);
        }
        if self.facts.and_then(|facts| facts.presumption_rebutted) == Some(true) {
            let text = sentence!(
                "The presumption that the oil is hazardous waste was rebutted as 40 CFR \
                 279.10(b)(1)(ii) asks, and the proof is kept with the records."
            );
            note("/facts/presumption_rebutted", text);
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
}
