//! What a sump's volume takes for granted because the request did not say.

use super::SumpVolume;
use crate::fluid::practice::read_with_pumps_off;
use crate::sentence;
use crate::text::{Assumption, Sentence, density_of_water};

impl SumpVolume {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        if self.shape.is_some() {
            assumptions.push(read_with_pumps_off("/shape/level"));
        }
        if self.dilution.is_some() {
            assumptions.push(Assumption::volumes_add());
        }
        let mut note = |pointer: &'static str, text: Sentence| {
            assumptions.push(Assumption::new(pointer, text));
        };
        if let Some(shape) = &self.shape {
            let text =
                sentence!("The sump was assumed to stand level and its walls to be straight.");
            note("/shape", text);
            if shape.in_pipes.is_none() {
                let text =
                    sentence!("The pipes and the machine's bed were assumed to hold no fluid.");
                note("/shape/in_pipes", text);
            }
            if shape.displaced.is_none() {
                note("/shape/displaced", sentence!("The sump was assumed to be free of fittings."));
            }
        }
        if let Some(dilution) = &self.dilution {
            let text = sentence!("The fluid was assumed to have the {}.", density_of_water());
            note("/dilution", text);
            let text = sentence!(
                "The fluid was assumed to be well mixed before and after, and not to have lost any \
                 in between."
            );
            note("/dilution", text);
            if dilution.added_concentration.is_none() {
                let text = sentence!("Plain water was assumed to be what was added.");
                note("/dilution/added_concentration", text);
            }
            if dilution.added_u.is_none() && dilution.strength_u.is_some() {
                let text = sentence!("The addition was assumed to be measured exactly.");
                note("/dilution/added_u", text);
            }
        }
        assumptions
    }
}
