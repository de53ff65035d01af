//! "Did you mean": the known name nearest to a misspelt one.

use crate::quantity::UnitSystem;
use crate::sentence;
use crate::text::Sentence;

/// The known name nearest to a misspelt one, if one is near enough to suggest.
pub fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    const NEAR: f64 = 0.8;
    known
        .into_iter()
        .map(|candidate| (strsim::jaro_winkler(name, candidate), candidate))
        .filter(|(likeness, _)| *likeness >= NEAR)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}

/// `Did you mean "…"?` with the known name nearest to a misspelt one, if one is near
/// enough to suggest.
pub fn hint<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    // A name has no units.
    nearest(name, known).map(|near| did_you_mean(near).show(UnitSystem::Metric))
}

/// The sentence about a misspelt name, followed by the [`hint`] where there is one.
pub fn with_nearest<'a>(
    sentence: Sentence,
    name: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Sentence {
    match nearest(name, known) {
        Some(near) => sentence!("{} {}", sentence, did_you_mean(near)),
        None => sentence,
    }
}

fn did_you_mean(near: &str) -> Sentence {
    sentence!("Did you mean \"{}\"?", near)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_misspelt_name_is_met_with_the_one_that_was_meant() {
        let known = ["water", "recycled", "a {} b"];
        assert_eq!(hint("recyled", known).as_deref(), Some("Did you mean \"recycled\"?"));
        assert_eq!(hint("coolant", known), None);
        let unknown = || sentence!("No stock is called \"{}\".", "a {} c");
        let shown = with_nearest(unknown(), "a {} c", known).show(UnitSystem::Us);
        assert_eq!(shown, "No stock is called \"a {} c\". Did you mean \"a {} b\"?");
        assert_eq!(with_nearest(unknown(), "zzz", known), unknown());
    }
}
