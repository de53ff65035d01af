//! Counts of microbes: the published bands, and what a count does not tell.

use crate::quantity::{BacterialCount, Quantity};
use crate::sentence;
use crate::text::{Assumption, Finding};

/// Up to here a dip slide counts as good control, CFU/mL (UK HSE; a copy of 2012 had
/// a thousand).
pub const GOOD_BELOW: f64 = 1e4;

/// From here it counts as poor control: act at once, CFU/mL (UK HSE).
pub const POOR_FROM: f64 = 1e6;

/// Names fluid whose count calls for action at once, and what it needs.
#[must_use]
pub fn poor_count(count: BacterialCount, whose: &str, pointer: &str) -> Option<Finding> {
    if count.get() < POOR_FROM {
        return None;
    }
    let text = sentence!(
        "{}: a dip slide of {} lies in the band of poor control, from {} on, in which the UK's HSE \
         asks to act at once. Keep people out of its mist, find where it came from, and clean and \
         refill that sump; what it is mixed with is infected too. Biocide in fluid so heavily grown \
         sets free what the microbes hold; ask its supplier first.",
        whose,
        count.measure().rounded(2),
        BacterialCount::measure_of(POOR_FROM)
    );
    Some(Finding::act("microbes-act-at-once", pointer.to_owned(), text))
}

/// What killing microbes leaves behind.
#[must_use]
pub fn killed_stays(pointer: &str) -> Finding {
    let text = sentence!(
        "What is killed stays in the fluid: dead microbes leave endotoxin, which no dip slide \
         counts and which harms lungs in mist. A low count after this stage does not make the \
         fluid clean; take out what feeds them, oil and fines, and clean the sump they came from."
    );
    Finding::note("killed-stays-as-endotoxin", pointer.to_owned(), text)
}

/// Which bands a count was held against.
#[must_use]
pub fn of_bands(pointer: &str) -> Assumption {
    let text = sentence!(
        "The count was compared with the bands of the UK's HSE as they stand now: good below {}, \
         poor from {} on. An older copy, of 2012, began its middle band at {}. They are for \
         bacteria, not for fungi.",
        BacterialCount::measure_of(GOOD_BELOW),
        BacterialCount::measure_of(POOR_FROM),
        BacterialCount::measure_of(GOOD_BELOW / 10.0)
    );
    Assumption::new(pointer.to_owned(), text)
}
