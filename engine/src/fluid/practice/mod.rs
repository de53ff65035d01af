//! What the trade does and does not do: the bounds within which advice stays, and
//! what is said where a request leaves them.
//!
//! None of these figures is physics. Each says where it comes from; a fluid's own
//! sheet and the caller's own limits go before them where they are stricter.

mod microbes;
mod oil;
mod salts;

pub use microbes::{GOOD_BELOW, POOR_FROM, killed_stays, of_bands, poor_count};
pub use oil::{OIL_DISTURBS_FROM, tramp_oil_in_reading};
pub use salts::{
    HARDNESS_AT_LEAST, NITRATE_OF_WATER_AT_MOST, NITRITE_AT_MOST, is_chloride, is_hardness,
    is_nitrate, is_nitrite, nitrate_in_water, nitrate_of_water, nitrite, nitrite_in,
    nitrite_without_end, of_hardness, soft_water,
};

use crate::quantity::{Concentration, Quantity};
use crate::sentence;
use crate::text::{Assumption, Finding};

/// The strongest premix that is poured into a sump, % by volume. Common practice, no
/// source: 10 to 20; above it many concentrates thicken or turn over into water in
/// oil, and neat concentrate hangs on walls and filters while the sump reads low.
pub const PREMIX_AT_MOST: f64 = 20.0;

/// From here on, % by volume, nobody calls it a premix, whatever a sheet allows. Common
/// practice, no source.
pub const NEAT_FROM: f64 = 50.0;

/// From the weakest to the strongest that fluid in a working sump plausibly is, % by
/// volume. Common practice, no source: sheets ask for 2 to 15.
pub const WORKING_STRENGTHS: (f64, f64) = (0.5, 20.0);

/// The smallest sump that a person leans or climbs into to clean it, L. Common
/// practice, no source: below it one works from outside.
pub const LARGE_SUMP: f64 = 1000.0;

/// How levels and volumes of a sump were taken, which nobody asks. Common practice, no
/// source.
#[must_use]
pub fn read_with_pumps_off(pointer: &'static str) -> Assumption {
    let text = sentence!(
        "What a sump holds was assumed to be read with its pumps off and drained back. Fluid in \
         lines and on the machine comes down when they stop: a sump filled to the brim with the \
         pumps on runs over."
    );
    Assumption::new(pointer, text)
}

/// How strong a mix is that a cleaned sump is rinsed with, % by volume. Common
/// practice, from memory: a weak mix of the product that comes in next; bare water
/// leaves steel to rust.
pub const RINSE_STRENGTHS: (f64, f64) = (1.0, 2.0);

/// Asks back where a working sump is said to be stronger or weaker than any is:
/// a decimal point in the wrong place, or a percentage typed as a share.
#[must_use]
pub fn unusual_strength(concentration: Concentration, pointer: &str) -> Option<Finding> {
    let c = concentration.get();
    if (WORKING_STRENGTHS.0..=WORKING_STRENGTHS.1).contains(&c) {
        return None;
    }
    let text = sentence!(
        "{} is unusual for a working sump, where fluids run from {} to {}. Check the decimal point \
         and the per cent before anything is poured or drained.",
        concentration.roughly(),
        Concentration::measure_of(WORKING_STRENGTHS.0),
        Concentration::measure_of(WORKING_STRENGTHS.1)
    );
    Some(Finding::act(Finding::DOUBT, pointer.to_owned(), text))
}

/// So many findings of a kind are named; of the rest, how many there are.
const FEW: usize = 3;

/// The first few of findings of one kind, and one that counts the rest.
#[must_use]
pub fn few(found: impl IntoIterator<Item = Finding>) -> Vec<Finding> {
    let mut found = found.into_iter();
    let mut findings: Vec<Finding> = found.by_ref().take(FEW).collect();
    let Some(next) = found.next() else { return findings };
    let text = sentence!("The same holds in {} more places.", 1 + found.count());
    findings.push(Finding { text, pointer: "".into(), ..next });
    findings
}

/// Whether one of these names is that of nitrite.
pub(crate) fn names_nitrite<'a>(names: impl IntoIterator<Item = &'a str>) -> bool {
    names.into_iter().any(is_nitrite)
}

/// Whether somebody calls this what kills microbes.
pub(crate) fn names_biocide(name: &str) -> bool {
    let name = name.to_lowercase();
    ["biocid", "biozid", "bactericid", "fungicid"].iter().any(|word| name.contains(word))
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

    #[test]
    fn of_many_a_few_are_named() {
        let of = |n: usize| few((0..n).map(|i| Finding::note("odd", format!("/{i}"), "Odd.")));
        assert_eq!(of(3).len(), 3);
        assert_eq!(of(2_000).len(), 4);
        let last = of(2_000)[3].text.show(crate::quantity::UnitSystem::Metric);
        assert_eq!(last, "The same holds in 1997 more places.");
    }
}
