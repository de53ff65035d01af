//! What a calibration takes for granted because the request did not say.

use super::question::USUAL_DIVISION;
use super::{CalibrationLine, RefractometerCalibration};
use crate::quantity::{Quantity, ScaleDivision};
use crate::sentence;
use crate::text::{Assumption, Sentence};

impl RefractometerCalibration {
    pub(super) fn assumptions(&self) -> Vec<Assumption> {
        let mut assumptions = Vec::new();
        let mut note = |pointer: &'static str, text: Sentence| {
            assumptions.push(Assumption::new(pointer, text));
        };
        let exact = sentence!(
            "The mixes were assumed to be as strong as they were meant to be, and all readings to \
             scatter alike."
        );
        note("/samples", exact);
        let temperature = sentence!(
            "The readings were assumed to be compensated for temperature, and to come from one \
             instrument."
        );
        note("/samples", temperature);
        if self.line.is_none() {
            let text = match self.line() {
                CalibrationLine::WithOffset => {
                    sentence!("The line was given an offset: what the water itself reads.")
                }
                CalibrationLine::ThroughOrigin => sentence!(
                    "The water was assumed to read 0: two strengths do not show what it reads and \
                     how sure that is."
                ),
            };
            note("/line", text);
        }
        if self.division.is_none() {
            let text = sentence!(
                "The scale was assumed to be read to {}, which hides up to half of that in every \
                 reading.",
                ScaleDivision::measure_of(USUAL_DIVISION)
            );
            note("/division", text);
        }
        if self.repeats.is_none() {
            note("/repeats", sentence!("A future reading was assumed to be a single one."));
        }
        assumptions
    }
}
