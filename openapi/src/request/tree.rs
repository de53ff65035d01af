//! JSON read as a tree, more strictly than usual: a member given twice is a
//! fault, because nobody can tell which of the two was meant, and a document that
//! holds more than any question needs is not read to its end.

use crate::request::problem::{Fault, Problem, ProblemKind};
use serde::Deserializer;
use serde::de::{DeserializeSeed, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};
use serde_path_to_error::Track;
use std::cell::Cell;
use std::fmt;

/// So many values has a document at most, members and entries of all lists together:
/// more than 8 MiB hold of any question in earnest.
const VALUES_MOST: usize = 500_000;

/// Reads a document, or says where it stops being one.
pub fn parse(bytes: &[u8]) -> Result<Value, Problem> {
    let mut json = serde_json::Deserializer::from_slice(bytes);
    let mut track = Track::new();
    let left = Cell::new(VALUES_MOST);
    let tree = Tree { left: &left, given_twice: false };
    let tree = tree.deserialize(serde_path_to_error::Deserializer::new(&mut json, &mut track));
    let value = tree.map_err(|error| match left.get() {
        0 => too_many(),
        _ => not_json(&track.path(), &error),
    })?;
    json.end().map(|()| value).map_err(|error| trailing(&error))
}

fn too_many() -> Problem {
    let detail = format!(
        "The document holds more than {VALUES_MOST} values, the most that one may. Send less, or \
         several documents."
    );
    Problem::plain(ProblemKind::TooLarge, detail)
}

fn not_json(path: &serde_path_to_error::Path, error: &serde_json::Error) -> Problem {
    let pointer = pointer(path);
    let (line, column) = (error.line(), error.column());
    let message = error.to_string();
    let words = message.split(" at line ").next().unwrap_or_default();
    if words.starts_with("number out of range") {
        let detail = "The number is too large for any computer's arithmetic. Check it.";
        return Problem::new(ProblemKind::OutOfRange, Fault::new(pointer, detail));
    }
    let detail = format!("This is not JSON from line {line}, column {column} on: {words}.");
    Problem::new(ProblemKind::Malformed, Fault::new(pointer, detail))
}

fn trailing(error: &serde_json::Error) -> Problem {
    let (line, column) = (error.line(), error.column());
    let detail = format!(
        "Something follows the end of the document at line {line}, column {column}. Send one \
         document at a time."
    );
    Problem::new(ProblemKind::Malformed, Fault::new("", detail))
}

/// A path of serde's as a JSON pointer (RFC 6901).
#[must_use]
pub fn pointer(path: &serde_path_to_error::Path) -> String {
    use serde_path_to_error::Segment;
    let mut pointer = String::new();
    for segment in path {
        match segment {
            Segment::Seq { index } => push(&mut pointer, &index.to_string()),
            Segment::Map { key } => push(&mut pointer, key),
            // Which variant of a choice was tried, or a place serde lost track
            // of: neither is a step in the document.
            Segment::Enum { .. } | Segment::Unknown => {}
        }
    }
    pointer
}

/// Appends a step to a JSON pointer.
pub fn push(pointer: &mut String, step: &str) {
    pointer.push('/');
    pointer.push_str(&step.replace('~', "~0").replace('/', "~1"));
}

/// A JSON pointer one step longer.
#[must_use]
pub fn join(pointer: &str, step: &str) -> String {
    let mut longer = pointer.to_owned();
    push(&mut longer, step);
    longer
}

/// Reads a value, of a document that may have so many more.
#[derive(Clone, Copy)]
struct Tree<'a> {
    left: &'a Cell<usize>,
    /// Whether the member that it is was there before, which is refused at the member's
    /// own place in the document.
    given_twice: bool,
}

impl<'de> DeserializeSeed<'de> for Tree<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        if self.given_twice {
            return Err(D::Error::custom("this member is given twice"));
        }
        self.left.set(self.left.get().saturating_sub(1));
        if self.left.get() == 0 {
            return Err(D::Error::custom("there are too many values"));
        }
        deserializer.deserialize_any(self)
    }
}

impl<'de> Visitor<'de> for Tree<'_> {
    type Value = Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_unit<E>(self) -> Result<Value, E> {
        Ok(Value::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_i64<E>(self, value: i64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_u64<E>(self, value: u64) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_f64<E: Error>(self, value: f64) -> Result<Value, E> {
        let number = Number::from_f64(value).ok_or_else(|| E::custom("number out of range"))?;
        Ok(Value::Number(number))
    }

    fn visit_str<E>(self, value: &str) -> Result<Value, E> {
        Ok(value.into())
    }

    fn visit_string<E>(self, value: String) -> Result<Value, E> {
        Ok(Value::String(value))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Value, A::Error> {
        let mut entries = Vec::new();
        while let Some(entry) = list.next_element_seed(Tree { given_twice: false, ..self })? {
            entries.push(entry);
        }
        Ok(Value::Array(entries))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Value, A::Error> {
        let mut members = Map::new();
        while let Some(name) = map.next_key::<String>()? {
            let given_twice = members.contains_key(&name);
            let value = map.next_value_seed(Tree { given_twice, ..self })?;
            members.insert(name, value);
        }
        Ok(Value::Object(members))
    }
}
