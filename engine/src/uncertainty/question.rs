//! A question with places left open for numbers, filled anew for every draw
//! without writing or copying a document.

use serde::de::value::{Error, MapAccessDeserializer, MapDeserializer, SeqDeserializer};
use serde::de::{Deserializer, IntoDeserializer, Visitor};
use serde::forward_to_deserialize_any;
use serde_json::Value;

/// A document of which some numbers are places.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Open {
    Null,
    Truth(bool),
    Whole(u64),
    Number(f64),
    Place(usize),
    Text(String),
    List(Vec<Open>),
    Members(Vec<(String, Open)>),
}

impl Open {
    /// `document` with a place for what lies at each of `pointers`.
    pub(super) fn new(document: &Value, pointers: &[&str]) -> Self {
        Self::below(document, &mut String::new(), pointers)
    }

    fn below(value: &Value, path: &mut String, pointers: &[&str]) -> Self {
        let mut step = |name: &str, value: &Value| {
            let length = path.len();
            path.push('/');
            path.push_str(&name.replace('~', "~0").replace('/', "~1"));
            let open = Self::below(value, path, pointers);
            path.truncate(length);
            open
        };
        match value {
            Value::Null => Self::Null,
            Value::Bool(truth) => Self::Truth(*truth),
            Value::String(text) => Self::Text(text.clone()),
            Value::Array(entries) => {
                let entries = entries.iter().enumerate();
                Self::List(entries.map(|(i, entry)| step(&i.to_string(), entry)).collect())
            }
            Value::Object(members) => {
                let members = members.iter();
                Self::Members(members.map(|(name, v)| (name.clone(), step(name, v))).collect())
            }
            Value::Number(number) => {
                if let Some(place) = pointers.iter().position(|pointer| pointer == path) {
                    return Self::Place(place);
                }
                match number.as_u64() {
                    Some(whole) => Self::Whole(whole),
                    None => Self::Number(number.as_f64().unwrap_or(f64::NAN)),
                }
            }
        }
    }

    /// How many numbers it has, places included.
    pub(super) fn numbers(&self) -> usize {
        match self {
            Self::Whole(_) | Self::Number(_) | Self::Place(_) => 1,
            Self::List(entries) => entries.iter().map(Self::numbers).sum(),
            Self::Members(members) => members.iter().map(|(_, open)| open.numbers()).sum(),
            Self::Null | Self::Truth(_) | Self::Text(_) => 0,
        }
    }

    /// The document with `numbers` in its places, ready to be read.
    pub(super) fn filled<'a>(&'a self, numbers: &'a [f64]) -> Filled<'a> {
        Filled { open: self, numbers }
    }
}

/// A document with its places filled.
#[derive(Debug, Clone, Copy)]
pub(super) struct Filled<'a> {
    open: &'a Open,
    numbers: &'a [f64],
}

impl<'de> Filled<'de> {
    fn members(
        self,
        members: &'de [(String, Open)],
    ) -> MapDeserializer<'de, impl Iterator<Item = (&'de str, Self)>, Error> {
        let filled = move |(name, open): &'de (String, Open)| {
            (name.as_str(), Self { open, numbers: self.numbers })
        };
        MapDeserializer::new(members.iter().map(filled))
    }
}

impl<'de> IntoDeserializer<'de> for Filled<'de> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

impl<'de> Deserializer<'de> for Filled<'de> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.open {
            Open::Null => visitor.visit_unit(),
            Open::Truth(truth) => visitor.visit_bool(*truth),
            Open::Whole(whole) => visitor.visit_u64(*whole),
            Open::Number(number) => visitor.visit_f64(*number),
            Open::Place(place) => visitor.visit_f64(self.numbers[*place]),
            Open::Text(text) => visitor.visit_borrowed_str(text),
            Open::List(entries) => {
                let filled = |open| Self { open, numbers: self.numbers };
                visitor.visit_seq(SeqDeserializer::new(entries.iter().map(filled)))
            }
            Open::Members(members) => visitor.visit_map(self.members(members)),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.open {
            Open::Null => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Error> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Error> {
        match self.open {
            Open::Text(text) => visitor.visit_enum(text.as_str().into_deserializer()),
            Open::Members(members) => {
                visitor.visit_enum(MapAccessDeserializer::new(self.members(members)))
            }
            _ => self.deserialize_any(visitor),
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculations::sump::concentration::InBand;
    use serde::Deserialize;
    use serde_json::json;

    #[test]
    fn a_filled_question_reads_like_the_document_it_stands_for() {
        let mut document = json!({
            "reading": { "method": "refractometer", "brix": 5.0, "factor": 1.25 },
            "band": { "low": 5, "target": 6.0, "high": 7.0 },
        });
        let open = Open::new(&document, &["/reading/brix", "/band/high"]);
        assert_eq!(open.numbers(), 5);
        let filled = InBand::deserialize(open.filled(&[5.5, 8.0])).expect("a question");
        document["reading"]["brix"] = 5.5.into();
        document["band"]["high"] = 8.0.into();
        assert_eq!(filled, serde_json::from_value(document).expect("a question"));
        assert!(InBand::deserialize(open.filled(&[-1.0, 8.0])).is_err());
    }
}
