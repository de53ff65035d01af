//! Tramp oil in a sample, and what it does to a reading.

use crate::fluid::reading::Reading;
use crate::quantity::{Concentration, Quantity};
use crate::sentence;
use crate::text::Finding;

/// Tramp oil from which on it is asked whether a reading can be believed, % by volume.
/// Common practice, no source: 1 to 2. That tramp oil biases a refractometer, DGUV
/// Regel 109-003 says.
pub const OIL_DISTURBS_FROM: f64 = 1.0;

/// Asks for another sample where the fluid is known to carry more oil than a reading
/// stands. Oil that is emulsified mostly reads as concentrate (from memory), and what
/// rises when a sample is split adds to the layer; a titration it leaves alone.
#[must_use]
pub fn tramp_oil_in_reading(
    reading: &Reading,
    oil: Option<Concentration>,
    pointer: &str,
) -> Option<Finding> {
    let oil = oil.filter(|oil| oil.get() > OIL_DISTURBS_FROM)?;
    let text = match reading {
        Reading::Refractometer(_) | Reading::RefractiveIndex(_) => sentence!(
            "The fluid carries {} of tramp oil, and oil that is emulsified reads as concentrate: \
             the fluid may well be leaner than this reading says. Draw a sample from under the \
             oil, let it clear or spin it, and read that; or titrate.",
            oil.roughly()
        ),
        Reading::AcidSplit(_) => sentence!(
            "The fluid carries {} of tramp oil, which rises with the oil of the concentrate and \
             adds to the layer: the fluid may well be leaner than this reading says. Draw the \
             sample from under the oil once it has risen, or titrate.",
            oil.roughly()
        ),
        Reading::Titration(_) => return None,
    };
    Some(Finding::act("tramp-oil-in-reading", pointer.to_owned(), text))
}
