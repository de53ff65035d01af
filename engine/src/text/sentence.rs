//! A sentence for a person, with its measured numbers kept as data.
//!
//! The engine does not know in which units the caller thinks, so it does not
//! write numbers into text. It hands over a template, the measures and the words
//! that are somebody else's; the border renders them in the caller's units, by
//! [`in_units`] around whatever writes an answer down.

use crate::quantity::{Measure, UnitSystem};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::cell::Cell;
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

thread_local! {
    /// The units in which this thread writes sentences down.
    static WRITTEN_IN: Cell<UnitSystem> = const { Cell::new(UnitSystem::Metric) };
}

/// Writes something down whose sentences are to be read in `system`. Without it
/// they are written in metric units.
pub fn in_units<T>(system: UnitSystem, write: impl FnOnce() -> T) -> T {
    struct Back(UnitSystem);
    impl Drop for Back {
        fn drop(&mut self) {
            WRITTEN_IN.set(self.0);
        }
    }
    let _back = Back(WRITTEN_IN.replace(system));
    write()
}

/// A template with a `{}` for each measure and for words that are not the engine's
/// own.
#[derive(Debug, Clone, PartialEq)]
pub struct Sentence {
    template: Cow<'static, str>,
    parts: Vec<Part>,
}

/// What fills a place of a template.
#[derive(Debug, Clone, PartialEq)]
enum Part {
    Measure(Measure),
    Words(Cow<'static, str>),
}

impl Sentence {
    /// A sentence of words alone, or a template whose places are filled next.
    pub fn new(template: impl Into<Cow<'static, str>>) -> Self {
        Self { template: template.into(), parts: Vec::new() }
    }

    /// A sentence of words alone, as a table holds it.
    #[must_use]
    pub const fn fixed(words: &'static str) -> Self {
        Self { template: Cow::Borrowed(words), parts: Vec::new() }
    }

    /// Fills the next `{}` with a measured number.
    #[must_use]
    pub fn with(mut self, measure: Measure) -> Self {
        self.parts.push(Part::Measure(measure));
        self
    }

    /// Fills the next `{}` with words, which may hold anything: a name that the
    /// caller gave, for one.
    #[must_use]
    pub fn say(mut self, words: impl Into<Cow<'static, str>>) -> Self {
        self.parts.push(Part::Words(words.into()));
        self
    }

    /// The sentence with words before it that say what it is about.
    #[must_use]
    pub fn about(mut self, subject: &str) -> Self {
        self.template = format!("{{}}: {}", self.template).into();
        self.parts.insert(0, Part::Words(subject.to_owned().into()));
        self
    }

    /// The sentence as a person in `system` reads it.
    #[must_use]
    pub fn show(&self, system: UnitSystem) -> String {
        self.shown(system).into_owned()
    }

    fn shown(&self, system: UnitSystem) -> Cow<'_, str> {
        if self.parts.is_empty() {
            return Cow::Borrowed(&self.template);
        }
        let mut fill = self.parts.iter();
        let mut between = self.template.split("{}");
        let mut text = between.next().unwrap_or_default().to_owned();
        for rest in between {
            match fill.next() {
                Some(Part::Measure(measure)) => text.push_str(&measure.show(system)),
                Some(Part::Words(words)) => text.push_str(words),
                // The braces of somebody's own words, which came last.
                None => text.push_str("{}"),
            }
            text.push_str(rest);
        }
        text.into()
    }
}

impl From<&'static str> for Sentence {
    fn from(words: &'static str) -> Self {
        Self::fixed(words)
    }
}

impl From<String> for Sentence {
    fn from(words: String) -> Self {
        Self::new(words)
    }
}

/// The text, in the units that it is written down in.
impl Serialize for Sentence {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.shown(WRITTEN_IN.get()))
    }
}

/// A text that was written down stays as it is.
impl<'de> Deserialize<'de> for Sentence {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer).map(Self::from)
    }
}

impl PartialSchema for Sentence {
    fn schema() -> RefOr<Schema> {
        String::schema()
    }
}

impl ToSchema for Sentence {}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::quantity::{Quantity, Volume};

    #[test]
    fn the_same_sentence_speaks_both_systems() {
        let sentence = Sentence::new("It holds {}.").with(Volume::measure_of(378.5411784));
        assert_eq!(sentence.show(UnitSystem::Metric), "It holds 378.541 L.");
        assert_eq!(sentence.show(UnitSystem::Us), "It holds 100 US gal.");
    }

    #[test]
    fn words_of_others_are_never_a_place_to_fill() {
        let sentence = Sentence::new("{} holds {}.").say("tank {}").with(Volume::measure_of(2.0));
        assert_eq!(sentence.show(UnitSystem::Metric), "tank {} holds 2 L.");
        assert_eq!(Sentence::from("a {} b".to_owned()).show(UnitSystem::Metric), "a {} b");
    }

    #[test]
    fn a_sentence_is_written_down_in_the_units_around_it() {
        let sentence = Sentence::new("It holds {}.").with(Volume::measure_of(378.5411784));
        let written = || serde_json::to_string(&sentence).expect("a text");
        assert_eq!(written(), "\"It holds 378.541 L.\"");
        assert_eq!(in_units(UnitSystem::Us, written), "\"It holds 100 US gal.\"");
        assert_eq!(written(), "\"It holds 378.541 L.\"");
    }
}
