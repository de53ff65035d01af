//! What water and fluid carry that is judged wherever it is known: nitrite, nitrate
//! and hardness.
//!
//! A request's own limits decide what a calculation keeps to. The published bounds
//! here are told besides, and no laxer limit silences them.

use crate::fluid::properties::{ContentLimit, Properties};
use crate::handbook::water::hardness::{GERMAN_DEGREE, GRAIN_PER_US_GALLON};
use crate::quantity::{Content, Quantity};
use crate::sentence;
use crate::text::{Assumption, Finding};

/// Nitrite in fluid in use above which to act, mg/L (TRGS 611, 2007).
pub const NITRITE_AT_MOST: f64 = 20.0;

/// Nitrate in the water that a fluid is mixed with, mg/L at most (TRGS 611, 2007).
pub const NITRATE_OF_WATER_AT_MOST: f64 = 50.0;

/// Hardness below which many fluids foam, mg/L as CaCO3. From memory: sheets ask for
/// about 100 to 200 at least; the caller's own least goes first.
pub const HARDNESS_AT_LEAST: f64 = 100.0;

fn is_one_of(name: &str, spellings: &[&str]) -> bool {
    let letters = || name.bytes().filter(|b| *b != b'_').map(|b| b.to_ascii_lowercase());
    spellings.iter().any(|spelling| letters().eq(spelling.bytes()))
}

/// Whether a property is nitrite, in one of its usual spellings.
#[must_use]
pub fn is_nitrite(name: &str) -> bool {
    is_one_of(name, &["nitrite", "nitrites", "nitrit", "no2"])
}

/// Whether a property is nitrate, in one of its usual spellings.
#[must_use]
pub fn is_nitrate(name: &str) -> bool {
    is_one_of(name, &["nitrate", "nitrates", "nitrat", "no3"])
}

/// Whether a property is chloride, in one of its usual spellings.
#[must_use]
pub fn is_chloride(name: &str) -> bool {
    is_one_of(name, &["chloride", "chlorides", "chlorid", "cl"])
}

/// Whether a property is the whole hardness of the water.
#[must_use]
pub fn is_hardness(name: &str) -> bool {
    is_one_of(name, &["hardness", "totalhardness", "waterhardness", "haerte", "gesamthaerte"])
}

/// Names nitrite that is too high in fluid in use, whatever the caller's own limits.
#[must_use]
pub fn nitrite(name: &str, content: Content, pointer: &str) -> Option<Finding> {
    if !is_nitrite(name) || content.get() <= NITRITE_AT_MOST {
        return None;
    }
    let text = sentence!(
        "{} of nitrite is above {}, from which TRGS 611 asks for measures: with some amines nitrite \
         forms nitrosamines, which cause cancer. Find where it comes from (nitrate of the water, \
         microbes, salts from hardening) and change fluid until it is below; a laxer limit does \
         not lift this.",
        content.roughly(),
        Content::measure_of(NITRITE_AT_MOST)
    );
    Some(Finding::act("nitrite-high", pointer.to_owned(), text))
}

/// The same where nitrite rises without an end, and so passes any bound one day.
#[must_use]
pub fn nitrite_without_end(name: &str, pointer: &str) -> Option<Finding> {
    is_nitrite(name).then(|| {
        let text = sentence!(
            "Nitrite rises here without an end, and TRGS 611 asks for measures above {}: with some \
             amines it forms nitrosamines, which cause cancer. Drain some fluid off to waste, or \
             take water that brings none.",
            Content::measure_of(NITRITE_AT_MOST)
        );
        Finding::act("nitrite-high", pointer.to_owned(), text)
    })
}

/// High nitrite among all that a fluid carries; `pointer` is where its properties lie.
pub fn nitrite_in<'a>(
    properties: &'a Properties,
    pointer: &'a str,
) -> impl Iterator<Item = Finding> + 'a {
    let matter = properties.matter.iter();
    matter.filter_map(move |(name, content)| nitrite(name, *content, &format!("{pointer}/{name}")))
}

/// Names nitrate that is too high in the water that a fluid is mixed with.
#[must_use]
pub fn nitrate_of_water(name: &str, content: Content, pointer: &str) -> Option<Finding> {
    if !is_nitrate(name) || content.get() <= NITRATE_OF_WATER_AT_MOST {
        return None;
    }
    let text = sentence!(
        "{} of nitrate is more than the {} that TRGS 611 allows in the water a fluid is mixed with: \
         microbes make nitrite of it. Use other water, or deionise part of it.",
        content.roughly(),
        Content::measure_of(NITRATE_OF_WATER_AT_MOST)
    );
    Some(Finding::watch("nitrate-of-water-high", pointer.to_owned(), text))
}

/// High nitrate among all that a water carries; `pointer` is where its properties lie.
pub fn nitrate_in_water<'a>(
    properties: &'a Properties,
    pointer: &'a str,
) -> impl Iterator<Item = Finding> + 'a {
    let matter = properties.matter.iter();
    matter.filter_map(move |(name, content)| {
        nitrate_of_water(name, *content, &format!("{pointer}/{name}"))
    })
}

/// Says where fluid is so soft that it may foam: below the caller's own least, or
/// below the usual one where there is none.
#[must_use]
pub fn soft_water(
    name: &str,
    content: Content,
    limit: Option<&ContentLimit>,
    pointer: &str,
) -> Option<Finding> {
    let own = limit.and_then(|limit| limit.min).map(Quantity::get);
    let least = own.unwrap_or(HARDNESS_AT_LEAST);
    // What ends on the limit, but for rounding, keeps to it.
    if !is_hardness(name) || content.get() >= least * (1.0 - 1e-9) {
        return None;
    }
    let (is, least) = (content.roughly(), Content::measure_of(least).rounded(3));
    let text = match own {
        Some(_) => sentence!(
            "The hardness comes to {}, below the {} that are asked for. Soft water foams: take less \
             deionised water, or the hardening salt that the fluid's sheet names.",
            is,
            least
        ),
        None => sentence!(
            "The hardness comes to {}, and below about {} many fluids foam. The fluid's sheet has \
             its own figure, which goes first; give it as the least of the limits. Less deionised \
             water helps, or the hardening salt that the sheet names.",
            is,
            least
        ),
    };
    Some(Finding::watch("soft-water-foams", pointer.to_owned(), text))
}

/// What is taken for granted wherever a hardness is followed.
pub fn of_hardness<'a>(names: impl IntoIterator<Item = &'a str>) -> Option<Assumption> {
    names.into_iter().find(|name| is_hardness(name))?;
    let text = sentence!(
        "Hardness was taken as calcium carbonate (CaCO3): a degree of German hardness is {}, a \
         grain of hardness {}. It was assumed to stay in the fluid, and it does not all stay: lime \
         precipitates, and so do soaps with anionic emulsifiers. Chloride is the better measure of \
         cycles of concentration.",
        Content::measure_of(GERMAN_DEGREE).rounded(5),
        Content::measure_of(GRAIN_PER_US_GALLON).rounded(5)
    );
    Some(Assumption::new("", text))
}
