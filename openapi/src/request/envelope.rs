//! The envelope: the members around every question and every answer.

use serde::de::value::MapAccessDeserializer;
use serde::de::{DeserializeSeed, Error as _, IntoDeserializer, MapAccess, Visitor};
use serde::{Deserialize, Deserializer, Serialize};
use serde_json::Value;
use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;
use sumpwright_engine::fluid::balance::Balance;
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::{Assumption, Caution, Finding, Sentence};
use sumpwright_engine::uncertainty::{AnswerUncertainty, Uncertainty};

/// Maximum length of a reference, in characters.
pub const REFERENCE_MOST: usize = 128;

/// A question in its envelope.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Request<Question> {
    /// The system of units of every number in the request and its answer.
    pub units: UnitSystem,
    /// The caller's own reference, returned unchanged.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub reference: Option<String>,
    /// Uncertainty of numbers of the question.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub uncertainty: Option<Uncertainty>,
    /// The question itself; its members stand beside those above.
    #[serde(flatten)]
    pub question: Question,
}

/// An answer in its envelope, complete enough to file as a record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Record<Answer> {
    /// The caller's own reference, unchanged.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub reference: Option<String>,
    /// The system of units of every number in the record.
    pub units: UnitSystem,
    /// Name of the calculation.
    pub calculation: Cow<'static, str>,
    /// Version of the service that answered.
    pub version: Cow<'static, str>,
    /// The answer in one or two sentences, with amounts as one measures them.
    pub statement: Sentence,
    /// Findings, most urgent first; absent when there are none.
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    pub findings: Vec<Finding>,
    /// Result of the calculation, at full precision.
    pub answer: Answer,
    /// Material balance of the answer; absent where no material moves.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub balance: Option<Balance>,
    /// Uncertainty of the answer's numbers; absent unless the request has `uncertainty`.
    #[serde(skip_serializing_if = "Option::is_none", default)]
    pub uncertainty: Option<AnswerUncertainty>,
    /// Assumptions made where the request does not say.
    pub assumptions: Vec<Assumption>,
    /// Hazards to people, machines and the environment in doing what the answer says.
    pub cautions: Vec<Caution>,
}

/// Members of the envelope; the question's own members stand beside them.
pub const UNITS: &str = "units";
/// See [`UNITS`].
pub const REFERENCE: &str = "reference";
/// See [`UNITS`]; only in answers.
pub const STATEMENT: &str = "statement";
/// See [`UNITS`].
pub const UNCERTAINTY: &str = "uncertainty";

/// The system of units that a document names.
#[must_use]
pub fn units_of(document: &Value) -> Option<UnitSystem> {
    UnitSystem::deserialize(document.get(UNITS)?).ok()
}

/// The system of units that a word in a cell or an address names, in any case.
#[must_use]
pub fn units_named(word: &str) -> Option<UnitSystem> {
    let word = word.trim().to_ascii_lowercase();
    let word: serde::de::value::StrDeserializer<'_, serde::de::value::Error> =
        word.as_str().into_deserializer();
    UnitSystem::deserialize(word).ok()
}

/// Reads the envelope's members and passes the others straight to the question,
/// so that nothing is buffered and the question itself still refuses unknown
/// members. (serde's `flatten` does neither.)
impl<'de, Question: Deserialize<'de>> Deserialize<'de> for Request<Question> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(RequestVisitor(PhantomData))
    }
}

struct RequestVisitor<Question>(PhantomData<Question>);

impl<'de, Question: Deserialize<'de>> Visitor<'de> for RequestVisitor<Question> {
    type Value = Request<Question>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object")
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<Self::Value, A::Error> {
        let mut envelope = Envelope::default();
        let members = WithoutEnvelope { map, envelope: &mut envelope };
        let question = Question::deserialize(MapAccessDeserializer::new(members))?;
        let units = envelope.units.ok_or_else(|| A::Error::missing_field(UNITS))?;
        let Envelope { reference, uncertainty, .. } = envelope;
        Ok(Request { units, reference, uncertainty, question })
    }
}

#[derive(Default)]
struct Envelope {
    units: Option<UnitSystem>,
    reference: Option<String>,
    uncertainty: Option<Uncertainty>,
}

struct WithoutEnvelope<'a, A> {
    map: A,
    envelope: &'a mut Envelope,
}

impl<'de, A: MapAccess<'de>> MapAccess<'de> for WithoutEnvelope<'_, A> {
    type Error = A::Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, A::Error> {
        while let Some(Name(name)) = self.map.next_key::<Name<'de>>()? {
            match name.as_ref() {
                UNITS => set_once(&mut self.envelope.units, self.map.next_value()?, UNITS)?,
                REFERENCE => {
                    let reference: Option<String> = self.map.next_value()?;
                    let Some(reference) = reference else { continue };
                    if reference.chars().count() > REFERENCE_MOST {
                        return Err(A::Error::custom("the reference is too long"));
                    }
                    set_once(&mut self.envelope.reference, reference, REFERENCE)?;
                }
                UNCERTAINTY => {
                    let uncertainty: Option<Uncertainty> = self.map.next_value()?;
                    let Some(uncertainty) = uncertainty else { continue };
                    set_once(&mut self.envelope.uncertainty, uncertainty, UNCERTAINTY)?;
                }
                _ => {
                    let name = serde::de::value::CowStrDeserializer::new(name);
                    return seed.deserialize(name).map(Some);
                }
            }
        }
        Ok(None)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, A::Error> {
        self.map.next_value_seed(seed)
    }
}

fn set_once<T, E: serde::de::Error>(
    place: &mut Option<T>,
    value: T,
    name: &'static str,
) -> Result<(), E> {
    if place.replace(value).is_some() { Err(E::duplicate_field(name)) } else { Ok(()) }
}

/// A member's name, borrowed where the input allows it.
struct Name<'de>(Cow<'de, str>);

impl<'de> Deserialize<'de> for Name<'de> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct NameVisitor;
        impl<'de> Visitor<'de> for NameVisitor {
            type Value = Name<'de>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a member's name")
            }

            fn visit_borrowed_str<E>(self, name: &'de str) -> Result<Name<'de>, E> {
                Ok(Name(Cow::Borrowed(name)))
            }

            fn visit_str<E>(self, name: &str) -> Result<Name<'de>, E> {
                Ok(Name(Cow::Owned(name.to_owned())))
            }
        }
        deserializer.deserialize_str(NameVisitor)
    }
}

/// Whether one of these paths asks how sure the answer is.
pub(crate) fn asks_how_sure<'a>(mut paths: impl Iterator<Item = &'a str>) -> bool {
    paths.any(|path| path.strip_prefix(UNCERTAINTY).is_some_and(|rest| rest.starts_with('.')))
}
