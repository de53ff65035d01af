//! Anything that deserialises, read from a document or along a tree whose leaves come
//! from elsewhere: the cells of a row, or places that are filled anew for every draw.
//! Each type is read by one piece of code, wherever its values come from.

use super::Pointer;
use serde::de::value::{BorrowedStrDeserializer, MapAccessDeserializer};
use serde::de::{
    DeserializeSeed, Deserializer, Error as _, IntoDeserializer, MapAccess, SeqAccess, Visitor,
};
use serde::forward_to_deserialize_any;
use serde_json::Value;
use std::fmt;

/// Members and entries down to leaves.
#[derive(Debug, Clone, PartialEq)]
pub enum Tree {
    /// Members of an object.
    Members(Vec<(String, Tree)>),
    /// Entries of a list.
    List(Vec<Tree>),
    /// An entry that is not there, before others that may be.
    Gap,
    /// A value, by the number under which the source knows it.
    Leaf(usize),
}

impl Tree {
    /// Whether any of its leaves is as wanted.
    pub fn any(&self, is: &dyn Fn(usize) -> bool) -> bool {
        match self {
            Self::Leaf(leaf) => is(*leaf),
            Self::Members(members) => members.iter().any(|(_, tree)| tree.any(is)),
            Self::List(entries) => entries.iter().any(|tree| tree.any(is)),
            Self::Gap => false,
        }
    }
}

/// A value of a leaf.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum LeafValue<'de> {
    /// None.
    Null,
    /// True or false.
    Truth(bool),
    /// A whole number.
    Whole(u64),
    /// A whole number below 0.
    Negative(i64),
    /// A number.
    Number(f64),
    /// A text, or one of a few words.
    Text(&'de str),
}

/// Where the values of a tree's leaves come from.
pub trait LeafSource {
    /// Whether a leaf has a value: members of which nothing is given are not there.
    fn is_given(&self, leaf: usize) -> bool {
        let _ = leaf;
        true
    }

    /// The value of a leaf; what is wrong with it where it has none.
    fn value(&self, leaf: usize) -> Result<LeafValue<'_>, &'static str>;
}

/// Why something could not be read, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Misread {
    detail: String,
    /// The steps to it, the last first.
    steps: Vec<String>,
}

impl Misread {
    /// Where it stands.
    #[must_use]
    pub fn pointer(&self) -> Pointer {
        let mut pointer = Pointer::root();
        for step in self.steps.iter().rev() {
            pointer.push(step);
        }
        pointer
    }

    fn within(mut self, step: &str) -> Self {
        self.steps.push(step.to_owned());
        self
    }
}

impl fmt::Display for Misread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.detail)
    }
}

impl std::error::Error for Misread {}

impl serde::de::Error for Misread {
    fn custom<T: fmt::Display>(detail: T) -> Self {
        Self { detail: detail.to_string(), steps: Vec::new() }
    }
}

/// Reads what stands at a place of a document.
#[derive(Clone, Copy)]
pub struct Reader<'de>(Place<'de>);

#[derive(Clone, Copy)]
enum Place<'de> {
    Document(&'de Value),
    Along(&'de Tree, &'de dyn LeafSource),
}

/// What stands at a place.
enum Found<'de> {
    Members(Given<'de>),
    List(Entries<'de>),
    Leaf(LeafValue<'de>),
}

impl<'de> Reader<'de> {
    /// Reads a document.
    #[must_use]
    pub const fn of(document: &'de Value) -> Self {
        Self(Place::Document(document))
    }

    /// Reads along `tree` with the values of `source`.
    #[must_use]
    pub const fn along(tree: &'de Tree, source: &'de dyn LeafSource) -> Self {
        Self(Place::Along(tree, source))
    }

    fn found(self) -> Result<Found<'de>, Misread> {
        Ok(match self.0 {
            Place::Document(Value::Object(members)) => {
                Found::Members(Given { members: Members::Document(members.iter()), value: None })
            }
            Place::Document(Value::Array(entries)) => {
                Found::List(Entries { entries: List::Document(entries.iter()), place: 0 })
            }
            Place::Document(leaf) => Found::Leaf(leaf_of(leaf)),
            Place::Along(Tree::Members(members), source) => {
                let members = Members::Along(members.iter(), source);
                Found::Members(Given { members, value: None })
            }
            Place::Along(Tree::List(entries), source) => {
                Found::List(Entries { entries: List::Along(entries.iter(), source), place: 0 })
            }
            Place::Along(Tree::Gap, _) => Found::Leaf(LeafValue::Null),
            Place::Along(Tree::Leaf(leaf), source) => {
                Found::Leaf(source.value(*leaf).map_err(Misread::custom)?)
            }
        })
    }

    fn is_given(self) -> bool {
        match self.0 {
            Place::Document(_) => true,
            Place::Along(tree, source) => tree.any(&|leaf| source.is_given(leaf)),
        }
    }
}

fn leaf_of(value: &Value) -> LeafValue<'_> {
    match value {
        Value::Bool(truth) => LeafValue::Truth(*truth),
        Value::String(text) => LeafValue::Text(text),
        Value::Number(number) => match (number.as_u64(), number.as_i64()) {
            (Some(whole), _) => LeafValue::Whole(whole),
            (None, Some(negative)) => LeafValue::Negative(negative),
            (None, None) => LeafValue::Number(number.as_f64().unwrap_or(f64::NAN)),
        },
        Value::Null | Value::Array(_) | Value::Object(_) => LeafValue::Null,
    }
}

impl<'de> LeafValue<'de> {
    fn read<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misread> {
        match self {
            Self::Null => visitor.visit_unit(),
            Self::Truth(truth) => visitor.visit_bool(truth),
            Self::Whole(whole) => visitor.visit_u64(whole),
            Self::Negative(negative) => visitor.visit_i64(negative),
            Self::Number(number) => visitor.visit_f64(number),
            Self::Text(text) => visitor.visit_borrowed_str(text),
        }
    }
}

impl<'de> Deserializer<'de> for Reader<'de> {
    type Error = Misread;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misread> {
        match self.found()? {
            Found::Members(members) => visitor.visit_map(members),
            Found::List(entries) => visitor.visit_seq(entries),
            Found::Leaf(leaf) => leaf.read(visitor),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Misread> {
        match self.found()? {
            Found::Leaf(LeafValue::Null) => visitor.visit_none(),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Result<V::Value, Misread> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misread> {
        match self.found()? {
            Found::Leaf(LeafValue::Text(word)) => visitor.visit_enum(word.into_deserializer()),
            Found::Members(members) => visitor.visit_enum(MapAccessDeserializer::new(members)),
            Found::List(entries) => visitor.visit_seq(entries),
            Found::Leaf(leaf) => leaf.read(visitor),
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

enum Members<'de> {
    Document(serde_json::map::Iter<'de>),
    Along(std::slice::Iter<'de, (String, Tree)>, &'de dyn LeafSource),
}

impl<'de> Iterator for Members<'de> {
    type Item = (&'de str, Reader<'de>);

    fn next(&mut self) -> Option<Self::Item> {
        match self {
            Self::Document(members) => {
                members.next().map(|(name, value)| (name.as_str(), Reader::of(value)))
            }
            Self::Along(members, source) => {
                let source = *source;
                let given = |(_, tree): &&(String, Tree)| Reader::along(tree, source).is_given();
                members.find(given).map(|(name, tree)| (name.as_str(), Reader::along(tree, source)))
            }
        }
    }
}

/// The members of which something is given.
struct Given<'de> {
    members: Members<'de>,
    value: Option<(&'de str, Reader<'de>)>,
}

impl<'de> MapAccess<'de> for Given<'de> {
    type Error = Misread;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Misread> {
        self.value = self.members.next();
        let Some((name, _)) = self.value else { return Ok(None) };
        seed.deserialize(BorrowedStrDeserializer::new(name)).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Misread> {
        let (name, value) = self.value.take().ok_or_else(|| Misread::custom("no value is due"))?;
        seed.deserialize(value).map_err(|misread| misread.within(name))
    }
}

enum List<'de> {
    Document(std::slice::Iter<'de, Value>),
    Along(std::slice::Iter<'de, Tree>, &'de dyn LeafSource),
}

/// The entries up to the last of which something is given; none may be missing before it.
struct Entries<'de> {
    entries: List<'de>,
    place: usize,
}

impl<'de> Entries<'de> {
    fn next(&mut self) -> Result<Option<Reader<'de>>, Misread> {
        let next = match &mut self.entries {
            List::Document(entries) => entries.next().map(Reader::of),
            List::Along(entries, source) => {
                let source = *source;
                let is_given = |tree: &Tree| Reader::along(tree, source).is_given();
                let next = entries.next().filter(|tree| is_given(tree));
                if next.is_none() && entries.any(is_given) {
                    return Err(Misread::custom("an entry is missing"));
                }
                next.map(|tree| Reader::along(tree, source))
            }
        };
        self.place += 1;
        Ok(next)
    }
}

impl<'de> SeqAccess<'de> for Entries<'de> {
    type Error = Misread;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Misread> {
        let place = self.place;
        let Some(entry) = self.next()? else { return Ok(None) };
        match seed.deserialize(entry) {
            Ok(read) => Ok(Some(read)),
            Err(misread) => Err(misread.within(&place.to_string())),
        }
    }
}
