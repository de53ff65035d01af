//! Names of what does not mix in a straight line, and what answers instead.
//!
//! A property of a fluid is followed by its amount: a litre of one and a litre of
//! another hold together what both held. That is true of what is conserved, of
//! chloride or tramp oil, and of nothing that an instrument reads off a scale of its
//! own or that grows by itself. Followed as if it were, such a figure comes out
//! wrong without a sign of it, so its name is refused wherever a property is named.
//!
//! A name is known by its words, in any case and however they are run together:
//! `pH`, `p_h`, `ph_value` and `PH` are one. Words that only say how something was
//! counted do not matter. Common practice, no source.

use super::NAME_MOST;
use crate::sentence;
use crate::text::Sentence;

/// Why something does not mix in a straight line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Why {
    Acidity,
    Conductivity,
    Potential,
    Temperature,
    Microbes,
    Reading,
    Senses,
    Turbidity,
    Viscosity,
}

/// What is wrong with following something under this name and which calculation or
/// test answers instead; none for what mixes.
#[must_use]
pub fn why_it_does_not_mix(name: &str) -> Option<Sentence> {
    let mut letters = [0; NAME_MOST];
    let whole = why(run_together(name, &mut letters, |_| false));
    let why = whole.or_else(|| why(run_together(name, &mut letters, says_how_counted)))?;
    Some(sentence!("{}: {}", name, explanation(why)))
}

fn why(letters: &str) -> Option<Why> {
    Some(match letters {
        "ph" | "phwert" => Why::Acidity,
        "conductivity"
        | "conductance"
        | "conduct"
        | "ec"
        | "leitfaehigkeit"
        | "leitwert"
        | "uscm"
        | "mscm"
        | "electricalconductivity"
        | "specificconductance"
        | "specificconductivity" => Why::Conductivity,
        "orp" | "redox" | "redoxpotential" | "eh" => Why::Potential,
        "temperature" | "temp" | "temperatur" => Why::Temperature,
        "cfu" | "kbe" | "bacteria" | "bacterial" | "bacterium" | "bakterien" | "fungi"
        | "fungal" | "fungus" | "mould" | "moulds" | "mold" | "molds" | "yeast" | "yeasts"
        | "dipslide" | "dipslides" | "microbes" | "microbial" | "microorganisms" | "germs"
        | "germ" | "keimzahl" | "colonies" | "colony" | "plate" | "viable" | "tvc" | "count"
        | "counts" | "bacteriacfu" | "fungicfu" | "microbiology" => Why::Microbes,
        "brix" | "refractometer" | "refractometry" | "refractiveindex" | "refraction" | "ri"
        | "nd" | "reading" => Why::Reading,
        "odour" | "odor" | "smell" | "geruch" | "look" | "appearance" | "colour" | "color"
        | "aussehen" | "farbe" => Why::Senses,
        "turbidity" | "turbidityntu" | "ntu" | "fnu" | "cloudiness" | "haze" | "truebung" => {
            Why::Turbidity
        }
        "viscosity" | "surfacetension" => Why::Viscosity,
        _ => return None,
    })
}

fn explanation(why: Why) -> Sentence {
    match why {
        Why::Acidity => sentence!(
            "A pH is a logarithm, and what a mix comes to depends on how well each part is \
             buffered. Measure it once the fluid is mixed; no calculation here predicts it."
        ),
        Why::Conductivity => sentence!(
            "Conductivity does not mix in a straight line: ions hinder each other, and concentrate \
             brings its own. Follow chloride instead, which does, and measure the conductivity \
             once the fluid is mixed."
        ),
        Why::Potential => sentence!(
            "A potential is a logarithm, and what a mix comes to depends on what reacts in it. \
             Measure it once the fluid is mixed."
        ),
        Why::Temperature => sentence!(
            "A temperature is no content of the fluid, and it changes by itself. Leave it out \
             here; where a reading was taken without compensation, its own member temperature \
             takes it."
        ),
        Why::Microbes => sentence!(
            "Microbes are no content that mixes: they grow and die between two counts. Judge the \
             count by itself; the calculation recycler takes it as feed.dip_slide and follows what \
             each stage kills."
        ),
        Why::Reading => sentence!(
            "What an instrument reads is no content of the fluid and shifts with tramp oil and \
             wear. Let the calculation concentration turn the reading into a strength, or give it \
             as a reading; the strength is what mixes."
        ),
        Why::Senses => sentence!(
            "What is seen or smelt cannot be mixed by numbers. Look at the fluid and smell it once \
             it is mixed."
        ),
        Why::Turbidity => sentence!(
            "Turbidity does not mix in a straight line: drops and fines count by their size, and \
             hide each other. Weigh what a filter keeps back, follow it as solids, and measure the \
             turbidity once the fluid is mixed."
        ),
        Why::Viscosity => {
            sentence!("This does not mix in a straight line. Measure it once the fluid is mixed.")
        }
    }
}

/// The letters of a name in small ones, without the words to be passed over. Words
/// are parted by underscores and where capitals begin or end.
fn run_together<'a>(
    name: &str,
    letters: &'a mut [u8; NAME_MOST],
    passed_over: impl Fn(&str) -> bool,
) -> &'a str {
    let (mut end, mut word) = (0, 0);
    let name = name.as_bytes();
    let at = |i: usize| name.get(i).copied().unwrap_or(b'_');
    for i in 0..=name.len() {
        let (before, here, next) = (at(i.wrapping_sub(1)), at(i), at(i + 1));
        let begins =
            here.is_ascii_uppercase() && (before.is_ascii_lowercase() || next.is_ascii_lowercase());
        if here == b'_' || begins {
            if passed_over(std::str::from_utf8(&letters[word..end]).unwrap_or_default()) {
                end = word;
            }
            word = end;
        }
        if here.is_ascii_alphabetic() && end < NAME_MOST {
            letters[end] = here.to_ascii_lowercase();
            end += 1;
        }
    }
    std::str::from_utf8(&letters[..end]).unwrap_or_default()
}

/// Words that say how or where something was measured and not what it is.
const HOW_COUNTED: [&str; 34] = [
    "value",
    "values",
    "count",
    "counts",
    "number",
    "reading",
    "readings",
    "level",
    "levels",
    "total",
    "mean",
    "average",
    "per",
    "ml",
    "m",
    "l",
    "u",
    "s",
    "us",
    "ms",
    "cm",
    "c",
    "f",
    "celsius",
    "fahrenheit",
    "degrees",
    "deg",
    "sump",
    "fluid",
    "at",
    "of",
    "in",
    "max",
    "min",
];

fn says_how_counted(word: &str) -> bool {
    HOW_COUNTED.contains(&word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_does_not_mix_is_known_in_its_usual_spellings() {
        for name in [
            "ph",
            "pH",
            "PH",
            "p_h",
            "ph_value",
            "pHValue",
            "PH_25",
            "conductivity",
            "Conductivity",
            "EC",
            "conductivity_uS_cm",
            "temperature",
            "temp_c",
            "cfu",
            "CFU_per_mL",
            "bacteria",
            "bacterial_count",
            "total_plate_count",
            "fungi",
            "dip_slide",
            "DipSlide",
            "brix",
            "Brix_reading",
            "refractive_index",
            "odour",
            "odor",
            "smell",
            "turbidity_ntu",
            "colour",
            "count",
            "orp",
            "viscosity",
        ] {
            assert!(why_it_does_not_mix(name).is_some(), "{name}");
        }
    }

    #[test]
    fn what_mixes_is_left_alone() {
        for name in [
            "chloride",
            "hardness",
            "temporary_hardness",
            "nitrite",
            "nitrate",
            "sulphate",
            "solids",
            "fines",
            "total_solids",
            "phosphate",
            "phosphorus",
            "phenol",
            "copper",
            "cobalt",
            "amine",
            "boron",
            "emulsifier",
            "sulfide",
            "tds",
            "of",
            "x",
            "alkalinity",
        ] {
            assert_eq!(why_it_does_not_mix(name), None, "{name}");
        }
    }
}
