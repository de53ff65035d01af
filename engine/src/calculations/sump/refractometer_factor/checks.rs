//! Samples and readings that no factor comes from.

use super::RefractometerCalibration;
use crate::numerics::line::{Line, Through};
use crate::quantity::{BrixOffset, Quantity};
use crate::sentence;
use crate::text::{Kind, Refusal};

impl RefractometerCalibration {
    pub(super) fn check(&self) -> Result<(), Refusal> {
        if self.samples.len() < 2 {
            let detail = sentence!(
                "One sample does not show how good a factor is. Make up at least two mixes, better \
                 five, from the weakest to the strongest that you use."
            );
            return Err(Refusal::new(Kind::NotIdentifiable, "/samples", detail));
        }
        if self.repeats.is_some_and(|repeats| repeats.get() < 1.0) {
            let detail = sentence!("A reading is taken at least once: repeats is 1 or more.");
            return Err(Refusal::new(Kind::OutOfRange, "/repeats", detail));
        }
        Ok(())
    }
}

/// Why there is no line.
pub(super) fn no_line(through: Through) -> Refusal {
    let detail = match through {
        Through::Origin => sentence!(
            "All samples are plain water, which says nothing about the concentrate. Make up at \
             least one mix."
        ),
        Through::Offset => sentence!(
            "All samples are of one strength, by which the factor and what the water reads cannot \
             be told apart. Make up another strength, or take the line through the origin."
        ),
    };
    Refusal::new(Kind::NotIdentifiable, "/samples", detail)
}

/// Refuses a line that no refractometer reads.
pub(super) fn check_line(line: &Line) -> Result<(), Refusal> {
    if line.slope <= 0.0 {
        let detail = sentence!(
            "The readings do not rise with the strength of the mixes, so there is no factor. Check \
             which reading belongs to which mix."
        );
        return Err(Refusal::new(Kind::Inconsistent, "/samples", detail));
    }
    if !BrixOffset::ROW.admits(line.offset) {
        let detail = sentence!(
            "By these samples plain water would read {}, which cannot be. Check the samples, and \
             set the instrument to zero on clean water.",
            BrixOffset::measure_of(line.offset)
        );
        return Err(Refusal::new(Kind::Inconsistent, "/samples", detail));
    }
    Ok(())
}

/// Refuses a reading that stands for nothing or for more than all.
pub(super) fn check_reading(b: f64, c: f64, i: usize) -> Result<(), Refusal> {
    let reading = BrixOffset::measure_of(b);
    let detail = if c < 0.0 {
        sentence!("A reading of {} is lower than what the water alone gives.", reading)
    } else if c > 100.0 {
        sentence!("A reading of {} stands for more than neat concentrate.", reading)
    } else {
        return Ok(());
    };
    Err(Refusal::new(Kind::Inconsistent, format!("/readings/{i}"), detail))
}
