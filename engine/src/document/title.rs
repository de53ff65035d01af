//! Titles of members that are given none: the name in words.

/// Words at the end of a name that say the unit of a number.
const UNITS: [&str; 7] = ["minutes", "hours", "days", "weeks", "months", "years", "percent"];

/// A member's name in words: `carry_off` is "Carry off".
#[must_use]
pub fn in_words(name: &str) -> String {
    let words = name.replace('_', " ");
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().collect::<String>() + letters.as_str()
    })
}

/// The same without the unit that the name ends with: `life_weeks` is "Life". A name that
/// is a unit, or the rate of one (`hours_per_day`), keeps it.
#[must_use]
pub fn without_its_unit(name: &str) -> String {
    let without = name.rsplit_once('_').filter(|(before, last)| {
        UNITS.contains(last) && !before.ends_with("per") && !before.ends_with('_')
    });
    in_words(without.map_or(name, |(before, _)| before))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_without_a_title_is_told_in_words() {
        assert_eq!(in_words("carry_off"), "Carry off");
        assert_eq!(in_words(""), "");
        for (name, title) in [
            ("life_weeks", "Life"),
            ("hours", "Hours"),
            ("hours_per_day", "Hours per day"),
            ("clean_outs_per_year", "Clean outs per year"),
        ] {
            assert_eq!(without_its_unit(name), title);
        }
    }
}
