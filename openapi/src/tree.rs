//! JSON read as a tree, more strictly than usual: a member given twice is a
//! fault, because nobody can tell which of the two was meant.

use crate::problem::{Fault, Problem, ProblemKind};
use serde::de::{DeserializeSeed, Error as _, MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};
use serde_json::{Map, Number, Value};
use std::fmt;

/// Reads a document, or says where it stops being one.
pub fn parse(bytes: &[u8]) -> Result<Value, Problem> {
    let mut json = serde_json::Deserializer::from_slice(bytes);
    let tree = serde_path_to_error::deserialize::<_, Tree>(&mut json);
    tree.map_err(|error| not_json(error.path(), error.inner()))
        .and_then(|Tree(value)| json.end().map(|()| value).map_err(|error| trailing(&error)))
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

struct Tree(Value);

impl<'de> Deserialize<'de> for Tree {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(TreeVisitor)
    }
}

struct TreeVisitor;

impl<'de> Visitor<'de> for TreeVisitor {
    type Value = Tree;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("JSON")
    }

    fn visit_unit<E>(self) -> Result<Tree, E> {
        Ok(Tree(Value::Null))
    }

    fn visit_bool<E>(self, value: bool) -> Result<Tree, E> {
        Ok(Tree(Value::Bool(value)))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Tree, E> {
        Ok(Tree(value.into()))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Tree, E> {
        Ok(Tree(value.into()))
    }

    fn visit_f64<E: serde::de::Error>(self, value: f64) -> Result<Tree, E> {
        let number = Number::from_f64(value).ok_or_else(|| E::custom("number out of range"))?;
        Ok(Tree(Value::Number(number)))
    }

    fn visit_str<E>(self, value: &str) -> Result<Tree, E> {
        Ok(Tree(Value::String(value.to_owned())))
    }

    fn visit_string<E>(self, value: String) -> Result<Tree, E> {
        Ok(Tree(Value::String(value)))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut list: A) -> Result<Tree, A::Error> {
        let mut entries = Vec::new();
        while let Some(Tree(entry)) = list.next_element()? {
            entries.push(entry);
        }
        Ok(Tree(Value::Array(entries)))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Tree, A::Error> {
        let mut members = Map::new();
        while let Some(name) = map.next_key::<String>()? {
            let given_twice = members.contains_key(&name);
            let Tree(value) = map.next_value_seed(Once { given_twice })?;
            members.insert(name, value);
        }
        Ok(Tree(Value::Object(members)))
    }
}

/// Refuses the value of a member that was there before, at the member's own
/// place in the document.
struct Once {
    given_twice: bool,
}

impl<'de> DeserializeSeed<'de> for Once {
    type Value = Tree;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Tree, D::Error> {
        if self.given_twice {
            return Err(D::Error::custom("this member is given twice"));
        }
        Tree::deserialize(deserializer)
    }
}
