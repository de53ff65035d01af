//! The checks of a question about separation.

use super::question::{SeparatingStage, Separation};
use crate::fluid::properties::{TRAMP_OIL, spoken};
use crate::fluid::stock;
use crate::sentence;
use crate::text::{Faults, Kind, Refusal};
use separator::unknown;
use std::collections::BTreeSet;

mod separator;

impl Separation {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        let mut faults = Faults::default();
        self.separator.note_contradictions("/separator", &mut faults);
        if let Some(feed) = &self.feed
            && let Some(concentration) = feed.concentration
        {
            stock::check_volume_shares(concentration, &feed.properties, "/feed", &mut faults);
        }
        if let Some(recirculation) = &self.recirculation {
            if matches!(self.separator.stage, SeparatingStage::Ultrafiltration(_)) {
                let detail = sentence!(
                    "A membrane run down by a volume concentration factor goes round by itself. \
                     Leave out the recirculation."
                );
                faults.add("/recirculation", detail);
            }
            let known = || self.separator.particles.iter().map(|p| p.property.as_str());
            let mut seen = BTreeSet::new();
            for (i, inflow) in recirculation.inflows.iter().flatten().enumerate() {
                let (name, at) = (&inflow.property, format!("/recirculation/inflows/{i}/property"));
                if !seen.insert(name.as_str()) {
                    let detail =
                        sentence!("The inflow of {} is given twice. Add them up.", spoken(name));
                    faults.add(at, detail);
                } else if !known().any(|own| own == name) {
                    faults.add(at, unknown(name, known()));
                }
            }
        }
        faults.or_refuse(Kind::Inconsistent)?;

        let mut faults = Faults::default();
        self.separator.note_missing("/separator", &mut faults);
        if let (None, Some(_)) = (&self.feed, &self.recirculation) {
            let detail = sentence!(
                "The turnovers of the tank depend on its volume, which is missing. Give the feed \
                 with its volume."
            );
            faults.add("/feed", detail);
        }
        let inflows = self.recirculation.iter().flat_map(|r| r.inflows.iter().flatten());
        let oil_comes_in = inflows.into_iter().any(|inflow| inflow.property == TRAMP_OIL);
        for (i, particles) in self.separator.particles.iter().enumerate() {
            let needs = oil_comes_in && particles.property == TRAMP_OIL;
            if needs && particles.density.is_none() && !self.separator.moves() {
                let detail = sentence!(
                    "The density of the tramp oil is missing. It says how much room the oil takes \
                     that comes in."
                );
                faults.add(format!("/separator/particles/{i}/density"), detail);
            }
        }
        faults.or_refuse(Kind::NotIdentifiable)
    }
}
