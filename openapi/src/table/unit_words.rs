//! The words that people write for units in a heading.

use sumpwright_engine::quantity::Unit;

/// One word for each unit, with other spellings.
const WORDS: &[(&str, &[&str])] = &[
    ("l", &["litre", "litres", "liter", "liters", "ltr"]),
    (
        "gal",
        &["gal_us", "gals", "gallon", "gallons", "us gal", "us gals", "us gallon", "us gallons"],
    ),
    ("kg", &["kgs", "kilogram", "kilograms", "kilo", "kilos"]),
    ("lb", &["lb_av", "lbs", "pound", "pounds"]),
    ("mg", &["milligram", "milligrams"]),
    ("ml", &["millilitre", "millilitres", "milliliter", "milliliters"]),
    ("mm", &["millimetre", "millimetres", "millimeter", "millimeters"]),
    ("in", &["in_i", "inch", "inches", "\""]),
    ("m", &["metre", "metres", "meter", "meters"]),
    ("ft", &["ft_i", "foot", "feet"]),
    ("°c", &["cel", "c", "deg c", "celsius", "degrees celsius"]),
    ("°f", &["degf", "f", "deg f", "fahrenheit", "degrees fahrenheit"]),
    ("min", &["mins", "minute", "minutes"]),
    ("s", &["sec", "secs", "second", "seconds"]),
    ("h", &["hr", "hrs", "hour", "hours"]),
    ("d", &["day", "days"]),
    ("wk", &["week", "weeks"]),
    ("mo", &["month", "months"]),
    ("a", &["year", "years", "yr", "yrs"]),
    ("°brix", &["brix", "bx", "°bx"]),
    ("%", &["% by volume", "% vol", "vol %", "vol%", "vol.-%", "percent", "per cent"]),
];

/// Whether the text stands for `unit`: its code, its symbol or a word.
pub(super) fn is(unit: Unit, written: &str) -> bool {
    let written = plain(written);
    [unit.code, unit.symbol].iter().any(|known| plain(known) == written)
}

/// Whether the text is a word or symbol of some unit.
pub(super) fn is_known(written: &str) -> bool {
    let word = written.trim().to_lowercase();
    one(&word).is_some() || word.split(['/', ' ']).all(|part| one(part).is_some())
}

/// A unit's text in one standard spelling, for comparison.
fn plain(text: &str) -> String {
    // The capital of the micro sign is a Greek letter, and the small one of that another.
    let text = text.trim().to_lowercase().replace('\u{3bc}', "\u{b5}");
    if let Some(unit) = one(&text) {
        return unit.to_owned();
    }
    let over = text.replace(" per ", "/").replace(" a ", "/");
    let words = over.split('/').map(|word| one(word.trim()).unwrap_or(word.trim()));
    words.collect::<Vec<_>>().join("/")
}

fn one(word: &str) -> Option<&'static str> {
    // The brackets of a code such as [gal_us] may be the heading's own.
    let word = word.strip_prefix('[').unwrap_or(word);
    let word = word.strip_suffix(']').unwrap_or(word);
    let found = WORDS.iter().find(|(unit, others)| *unit == word || others.contains(&word));
    found.map(|(unit, _)| *unit)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_unit_may_be_written_in_words() {
        let unit = |code, symbol| Unit { code, symbol };
        let litre = unit("L", "L");
        let gallon = unit("[gal_us]", "US gal");
        for written in ["L", "l", "litres", "Liter", " LITRE "] {
            assert!(is(litre, written) && !is(gallon, written), "{written}");
        }
        for written in ["[gal_us]", "gal_us", "gal", "Gallons", "US gal", "us gallons"] {
            assert!(is(gallon, written) && !is(litre, written), "{written}");
        }
        for written in ["L/d", "l/day", "litres per day", "litres a day"] {
            assert!(is(unit("L/d", "L/day"), written), "{written}");
        }
        assert!(is(unit("[gal_us]/d", "US gal/day"), "gallons a day"));
        assert!(is(unit("[lb_av]/[gal_us]", "lb/US gal"), "lbs per gallon"));
        assert!(is(unit("%", "% by volume"), "% vol"));
        assert!(!is(unit("kg/L", "kg/L"), "kg"));
        assert!(!is(litre, "imperial gallons") && !is(gallon, "imperial gallons"));
        assert!(!is(unit("mg/L", "mg/L"), "ppm"));
    }

    #[test]
    fn no_spelling_stands_for_two_units() {
        let all: Vec<&str> =
            WORDS.iter().flat_map(|(unit, others)| others.iter().chain([unit])).copied().collect();
        for word in &all {
            assert_eq!(all.iter().filter(|other| *other == word).count(), 1, "{word}");
        }
    }
}
