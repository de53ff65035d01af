//! "Did you mean": the known name nearest to a misspelt one.

use crate::quantity::UnitSystem;
use crate::sentence;
use crate::text::Sentence;

/// The known name nearest to a misspelt one, if one is near enough to suggest.
pub fn nearest<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    const NEAR: f64 = 0.8;
    /// What is longer is no misspelt name, and takes long to compare.
    const LONGEST: usize = 256;
    if name.len() > LONGEST {
        return None;
    }
    known
        .into_iter()
        .map(|candidate| (strsim::jaro_winkler(name, candidate), candidate))
        .filter(|(likeness, _)| *likeness >= NEAR)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, candidate)| candidate)
}

/// The question whether a known name was meant.
#[must_use]
pub fn was_meant(near: &str) -> String {
    // A name has no units.
    question(near).show(UnitSystem::Metric)
}

/// The same of the known name nearest to a misspelt one, if one is near enough.
pub fn did_you_mean<'a>(name: &str, known: impl IntoIterator<Item = &'a str>) -> Option<String> {
    nearest(name, known).map(was_meant)
}

/// A sentence and the question after it, if a known name is near enough.
pub fn with_nearest<'a>(
    sentence: Sentence,
    name: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> Sentence {
    match nearest(name, known) {
        Some(near) => sentence!("{} {}", sentence, question(near)),
        None => sentence,
    }
}

/// The same for a text of the border's own.
pub fn text_with_nearest<'a>(
    text: impl Into<String>,
    name: &str,
    known: impl IntoIterator<Item = &'a str>,
) -> String {
    let text = text.into();
    match did_you_mean(name, known) {
        Some(question) => format!("{text} {question}"),
        None => text,
    }
}

fn question(near: &str) -> Sentence {
    sentence!("Did you mean \"{}\"?", near)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_misspelt_name_is_met_with_the_one_that_was_meant() {
        let known = ["water", "recycled", "a {} b"];
        let meant = did_you_mean("recyled", known);
        assert_eq!(meant.as_deref(), Some("Did you mean \"recycled\"?"));
        assert_eq!(did_you_mean("coolant", known), None);
        let unknown = || sentence!("No stock is called \"{}\".", "a {} c");
        let shown = with_nearest(unknown(), "a {} c", known).show(UnitSystem::Us);
        assert_eq!(shown, "No stock is called \"a {} c\". Did you mean \"a {} b\"?");
        assert_eq!(with_nearest(unknown(), "zzz", known), unknown());
    }
}
