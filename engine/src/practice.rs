//! What the trade does and does not do: the bounds within which advice stays, and
//! what is said where a request leaves them.
//!
//! None of these figures is physics. Each says where it comes from; a fluid's own
//! sheet and the caller's own limits go before them where they are stricter.

use crate::calculation::Finding;
use crate::quantity::{Concentration, Quantity};
use crate::sentence::Sentence;

/// The strongest premix that is poured into a sump, % by volume. Common practice, no
/// source: 10 to 20; above it many concentrates thicken or turn over into water in
/// oil, and neat concentrate hangs on walls and filters while the sump reads low.
pub const PREMIX_AT_MOST: f64 = 20.0;

/// From the weakest to the strongest that fluid in a working sump plausibly is, % by
/// volume. Common practice, no source: sheets ask for 2 to 15.
pub const WORKING_STRENGTHS: (f64, f64) = (0.5, 20.0);

/// How strong a mix is that a cleaned sump is rinsed with, % by volume. Common
/// practice, from memory: a weak mix of the product that comes in next; bare water
/// leaves steel to rust.
pub const RINSE_STRENGTHS: (f64, f64) = (1.0, 2.0);

/// From this volume on, L, a sump is taken for one that a person gets or leans into.
/// Common practice, no source: a cubic metre.
pub const ENTERED_FROM: f64 = 1000.0;

/// Asks back where a working sump is said to be stronger or weaker than any is:
/// a decimal point in the wrong place, or a percentage typed as a share.
#[must_use]
pub fn unusual_strength(concentration: Concentration, pointer: &str) -> Option<Finding> {
    let c = concentration.get();
    if (WORKING_STRENGTHS.0..=WORKING_STRENGTHS.1).contains(&c) {
        return None;
    }
    let text = Sentence::new(
        "{} is unusual for a working sump, where fluids run from {} to {}. Check the decimal point \
         and the per cent before anything is poured or drained.",
    );
    let text = text
        .with(concentration.measure().rounded(3))
        .with(Concentration::measure_of(WORKING_STRENGTHS.0))
        .with(Concentration::measure_of(WORKING_STRENGTHS.1));
    Some(Finding::act("strength-unusual", pointer.to_owned(), text))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_for_a_percentage_is_asked_back() {
        let finding = |c: f64| unusual_strength(Concentration::of(c).expect("a share"), "/at");
        assert_eq!(finding(6.0), None);
        for odd in [0.06, 51.3] {
            assert_eq!(finding(odd).expect("a finding").code, "strength-unusual");
        }
    }
}
