//! A sentence for a person, with its measured numbers kept as data.
//!
//! The engine does not know in which units the caller thinks, so it does not
//! write numbers into text. It hands over a template, the measures and the words
//! that are somebody else's; the border renders them in the caller's units, by
//! [`in_units`](crate::quantity::in_units) around whatever writes an answer down.

use crate::quantity::{Measure, Quantity, UnitSystem, written_in};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::fmt;
use utoipa::openapi::{RefOr, Schema};
use utoipa::{PartialSchema, ToSchema};

/// A template with a `{}` for each measure, each word that is not the engine's own
/// and each sentence within it. Made by [`sentence!`](crate::sentence), which counts the
/// places when it is compiled.
#[derive(Debug, Clone, PartialEq)]
pub struct Sentence {
    template: &'static str,
    parts: Vec<Part>,
}

/// What fills a place of a template.
#[derive(Debug, Clone, PartialEq)]
pub enum Part {
    /// A number with its kind.
    Measure(Measure),
    /// Words that are somebody else's, and may hold anything: a name that the caller
    /// gave, for one.
    Words(Cow<'static, str>),
    /// A sentence within the sentence.
    Sentence(Sentence),
}

/// A piece of a sentence that has been written down.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum TextPiece {
    /// Words.
    Words(String),
    /// A number with its unit.
    Measure(String),
}

/// How many places a template has to be filled. A template with any other brace does
/// not compile.
///
/// # Panics
///
/// Where a brace is no place, which is while it is compiled.
#[must_use]
pub const fn places(template: &str) -> usize {
    let bytes = template.as_bytes();
    let (mut at, mut places) = (0, 0);
    while at < bytes.len() {
        match bytes[at] {
            b'{' => {
                assert!(
                    at + 1 < bytes.len() && bytes[at + 1] == b'}',
                    "a place is an opening and a closing brace"
                );
                places += 1;
                at += 2;
            }
            b'}' => panic!("a place is an opening and a closing brace"),
            _ => at += 1,
        }
    }
    places
}

/// A sentence for a person: a template, and what fills each of its places.
///
/// A part is a quantity or a [`Measure`] (written in the reader's units), words of
/// somebody else's, or another sentence. Too many or too few of them do not compile:
///
/// ```
/// use sumpwright_engine::quantity::{Quantity, UnitSystem, Volume};
/// use sumpwright_engine::sentence;
///
/// let full = sentence!("{} holds {}.", "mill 3", Volume::measure_of(378.5411784));
/// assert_eq!(full.show(UnitSystem::Us), "mill 3 holds 100 US gal.");
/// ```
///
/// ```compile_fail
/// let missing = sumpwright_engine::sentence!("{} holds {}.", "mill 3");
/// ```
#[macro_export]
macro_rules! sentence {
    ($template:expr $(, $part:expr)* $(,)?) => {{
        const TEMPLATE: &str = $template;
        const PARTS: usize = 0 $(+ { let _ = stringify!($part); 1 })*;
        const { assert!($crate::text::places(TEMPLATE) == PARTS, "as many parts as places") };
        if $crate::text::is_said() {
            $crate::text::Sentence::filled(TEMPLATE, vec![$($crate::text::Part::from($part)),*])
        } else {
            $crate::text::Sentence::fixed("")
        }
    }};
}

impl Sentence {
    /// A sentence of words alone, as a table holds it.
    #[must_use]
    pub const fn fixed(words: &'static str) -> Self {
        Self { template: words, parts: Vec::new() }
    }

    /// What [`sentence!`](crate::sentence) makes once it has counted.
    #[doc(hidden)]
    #[must_use]
    pub const fn filled(template: &'static str, parts: Vec<Part>) -> Self {
        Self { template, parts }
    }

    /// The sentence as a person in `system` reads it.
    #[must_use]
    pub fn show(&self, system: UnitSystem) -> String {
        let mut text = String::with_capacity(2 * self.template.len());
        let _ = self.write(system, &mut text);
        text
    }

    /// The same where no two numbers may read alike that are not equal, as in a refusal: "200.00001 L in a
    /// capacity of 200 L".
    #[must_use]
    pub fn show_apart(&self, system: UnitSystem) -> String {
        let measures = self.measures();
        self.apart(&measures, system).show(system)
    }

    fn apart(&self, measures: &[Measure], system: UnitSystem) -> Self {
        let parts = self.parts.iter().map(|part| match part {
            Part::Measure(measure) => Part::Measure(measure.apart_from(measures, system)),
            Part::Sentence(own) => Part::Sentence(own.apart(measures, system)),
            words @ Part::Words(_) => words.clone(),
        });
        Self { template: self.template, parts: parts.collect() }
    }

    /// The sentence as a person in `system` reads it, its measured numbers apart from its
    /// words, so that they can be made to stand out.
    #[must_use]
    pub fn pieces(&self, system: UnitSystem) -> Vec<TextPiece> {
        let mut fill = self.parts.iter();
        let mut pieces = Vec::new();
        for (place, rest) in self.template.split('{').enumerate() {
            let words = if place == 0 || self.parts.is_empty() {
                rest
            } else {
                match fill.next() {
                    Some(Part::Measure(measure)) => {
                        pieces.push(TextPiece::Measure(measure.show(system)));
                    }
                    Some(Part::Words(words)) => pieces.push(TextPiece::Words(words.to_string())),
                    Some(Part::Sentence(own)) => pieces.extend(own.pieces(system)),
                    None => {}
                }
                rest.strip_prefix('}').unwrap_or(rest)
            };
            pieces.push(TextPiece::Words(words.to_owned()));
        }
        pieces
    }

    /// The measured numbers of the sentence, in order.
    #[must_use]
    pub fn measures(&self) -> Vec<Measure> {
        let of_part = |part: &Part| match part {
            Part::Measure(measure) => vec![*measure],
            Part::Sentence(own) => own.measures(),
            Part::Words(_) => Vec::new(),
        };
        self.parts.iter().flat_map(of_part).collect()
    }

    fn write(&self, system: UnitSystem, out: &mut dyn fmt::Write) -> fmt::Result {
        if self.parts.is_empty() {
            return out.write_str(self.template);
        }
        let mut fill = self.parts.iter();
        // Every brace is one of a place: the template has been looked at when it was compiled.
        let mut between = self.template.split('{');
        out.write_str(between.next().unwrap_or_default())?;
        for rest in between {
            match fill.next() {
                Some(Part::Measure(measure)) => measure.write(system, out)?,
                Some(Part::Words(words)) => out.write_str(words)?,
                Some(Part::Sentence(sentence)) => sentence.write(system, out)?,
                None => out.write_str("{}")?,
            }
            out.write_str(rest.strip_prefix('}').unwrap_or(rest))?;
        }
        Ok(())
    }
}

/// The text, in the units that it is written down in.
impl fmt::Display for Sentence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.write(written_in(), f)
    }
}

impl From<Measure> for Part {
    fn from(measure: Measure) -> Self {
        Self::Measure(measure)
    }
}

impl<Q: Quantity> From<Q> for Part {
    fn from(quantity: Q) -> Self {
        Self::Measure(quantity.measure())
    }
}

/// A count.
impl From<usize> for Part {
    #[expect(clippy::cast_precision_loss, reason = "a count for a reader is far below 2^52")]
    fn from(count: usize) -> Self {
        Self::Measure(Measure::bare(count as f64))
    }
}

impl From<Sentence> for Part {
    fn from(sentence: Sentence) -> Self {
        Self::Sentence(sentence)
    }
}

impl From<&str> for Part {
    fn from(words: &str) -> Self {
        Self::Words(words.to_owned().into())
    }
}

impl From<&String> for Part {
    fn from(words: &String) -> Self {
        Self::Words(words.clone().into())
    }
}

impl From<String> for Part {
    fn from(words: String) -> Self {
        Self::Words(words.into())
    }
}

impl From<Cow<'static, str>> for Part {
    fn from(words: Cow<'static, str>) -> Self {
        Self::Words(words)
    }
}

impl From<&'static str> for Sentence {
    fn from(words: &'static str) -> Self {
        Self::fixed(words)
    }
}

/// The text, in the units that it is written down in.
impl Serialize for Sentence {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        if self.parts.is_empty() {
            serializer.serialize_str(self.template)
        } else {
            serializer.collect_str(self)
        }
    }
}

/// A text that was written down stays as it is.
impl<'de> Deserialize<'de> for Sentence {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        String::deserialize(deserializer).map(|words| sentence!("{}", words))
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
    use crate::quantity::{Volume, in_units};

    #[test]
    fn the_same_sentence_speaks_both_systems() {
        let sentence = sentence!("It holds {}.", Volume::measure_of(378.5411784));
        assert_eq!(sentence.show(UnitSystem::Metric), "It holds 378.541 L.");
        assert_eq!(sentence.show(UnitSystem::Us), "It holds 100 US gal.");
    }

    #[test]
    fn the_measures_of_a_sentence_stand_apart_from_its_words() {
        let inner = sentence!("holds {}", Volume::measure_of(2.0));
        let sentence = sentence!("{} {}, then stop.", "tank {}", inner);
        let pieces = sentence.pieces(UnitSystem::Metric);
        let together: String = pieces
            .iter()
            .map(|(TextPiece::Words(text) | TextPiece::Measure(text))| text.as_str())
            .collect();
        assert_eq!(together, sentence.show(UnitSystem::Metric));
        assert!(pieces.contains(&TextPiece::Measure("2 L".to_owned())), "{pieces:?}");
        assert_eq!(sentence.measures().len(), 1);
    }

    #[test]
    fn words_of_others_are_never_a_place_to_fill() {
        let sentence = sentence!("{} holds {}.", "tank {}", Volume::measure_of(2.0));
        assert_eq!(sentence.show(UnitSystem::Metric), "tank {} holds 2 L.");
    }

    #[test]
    fn a_sentence_is_written_down_in_the_units_around_it() {
        let sentence = sentence!("It holds {}.", Volume::measure_of(378.5411784));
        let written = || serde_json::to_string(&sentence).expect("a text");
        assert_eq!(written(), "\"It holds 378.541 L.\"");
        assert_eq!(in_units(UnitSystem::Us, written), "\"It holds 100 US gal.\"");
        assert_eq!(written(), "\"It holds 378.541 L.\"");
    }
}
