//! Anything that deserialises, read along a tree whose leaves come from elsewhere: the
//! cells of a row, or a document with places that are filled anew for every draw.

use serde::de::value::{BorrowedStrDeserializer, Error, MapAccessDeserializer};
use serde::de::{
    DeserializeSeed, Deserializer, Error as _, IntoDeserializer, MapAccess, SeqAccess, Visitor,
};
use serde::forward_to_deserialize_any;

/// Members and entries down to leaves.
#[derive(Debug, Clone, PartialEq)]
pub enum Tree<Leaf> {
    /// Members of an object.
    Members(Vec<(String, Tree<Leaf>)>),
    /// Entries of a list.
    List(Vec<Tree<Leaf>>),
    /// An entry that is not there, before others that may be.
    Gap,
    /// What the source knows the value of.
    Leaf(Leaf),
}

impl<Leaf> Tree<Leaf> {
    /// Whether any of its leaves is as wanted.
    pub fn any(&self, is: &impl Fn(&Leaf) -> bool) -> bool {
        match self {
            Self::Leaf(leaf) => is(leaf),
            Self::Members(members) => members.iter().any(|(_, tree)| tree.any(is)),
            Self::List(entries) => entries.iter().any(|tree| tree.any(is)),
            Self::Gap => false,
        }
    }
}

/// Where the values of leaves come from.
pub trait LeafSource: Copy {
    /// What a leaf of the tree is.
    type Leaf;

    /// Whether something is given there: members of which nothing is given are not there.
    fn is_given(self, tree: &Tree<Self::Leaf>) -> bool;

    /// Reads the value of a leaf.
    fn read<'de, V: Visitor<'de>>(
        self,
        leaf: &'de Self::Leaf,
        visitor: V,
    ) -> Result<V::Value, Error>
    where
        Self: 'de;

    /// The text of a leaf, where it may be one of a few words.
    fn text<'de>(self, leaf: &'de Self::Leaf) -> Option<&'de str>
    where
        Self: 'de;

    /// Whether a leaf says that there is nothing.
    fn is_null(self, leaf: &Self::Leaf) -> bool {
        let _ = leaf;
        false
    }
}

/// Reads along a tree.
#[derive(Debug)]
pub struct Reader<'de, Source: LeafSource> {
    tree: &'de Tree<Source::Leaf>,
    source: Source,
}

impl<'de, Source: LeafSource> Reader<'de, Source> {
    /// Reads `tree` with the values of `source`.
    #[must_use]
    pub const fn new(tree: &'de Tree<Source::Leaf>, source: Source) -> Self {
        Self { tree, source }
    }

    fn members(self, members: &'de [(String, Tree<Source::Leaf>)]) -> Given<'de, Source> {
        Given { members: members.iter(), value: None, source: self.source }
    }
}

impl<'de, Source: LeafSource + 'de> Deserializer<'de> for Reader<'de, Source> {
    type Error = Error;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.tree {
            Tree::Members(members) => visitor.visit_map(self.members(members)),
            Tree::List(entries) => {
                visitor.visit_seq(Entries { entries: entries.iter(), source: self.source })
            }
            Tree::Gap => visitor.visit_unit(),
            Tree::Leaf(leaf) => self.source.read(leaf, visitor),
        }
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, Error> {
        match self.tree {
            Tree::Leaf(leaf) if self.source.is_null(leaf) => visitor.visit_none(),
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
        match self.tree {
            Tree::Leaf(leaf) => match self.source.text(leaf) {
                Some(word) => visitor.visit_enum(word.into_deserializer()),
                None => self.deserialize_any(visitor),
            },
            Tree::Members(members) => {
                visitor.visit_enum(MapAccessDeserializer::new(self.members(members)))
            }
            Tree::List(_) | Tree::Gap => self.deserialize_any(visitor),
        }
    }

    forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf unit
        unit_struct seq tuple tuple_struct map struct identifier ignored_any
    }
}

/// The members of which something is given.
struct Given<'de, Source: LeafSource> {
    members: std::slice::Iter<'de, (String, Tree<Source::Leaf>)>,
    value: Option<&'de Tree<Source::Leaf>>,
    source: Source,
}

impl<'de, Source: LeafSource + 'de> MapAccess<'de> for Given<'de, Source> {
    type Error = Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(
        &mut self,
        seed: K,
    ) -> Result<Option<K::Value>, Error> {
        let source = self.source;
        let Some((name, tree)) = self.members.find(|(_, tree)| source.is_given(tree)) else {
            return Ok(None);
        };
        self.value = Some(tree);
        seed.deserialize(BorrowedStrDeserializer::new(name)).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Result<V::Value, Error> {
        let tree = self.value.take().ok_or_else(|| Error::custom("no value is due"))?;
        seed.deserialize(Reader::new(tree, self.source))
    }
}

/// The entries up to the last of which something is given; none may be missing before it.
struct Entries<'de, Source: LeafSource> {
    entries: std::slice::Iter<'de, Tree<Source::Leaf>>,
    source: Source,
}

impl<'de, Source: LeafSource + 'de> SeqAccess<'de> for Entries<'de, Source> {
    type Error = Error;

    fn next_element_seed<T: DeserializeSeed<'de>>(
        &mut self,
        seed: T,
    ) -> Result<Option<T::Value>, Error> {
        let source = self.source;
        match self.entries.next() {
            Some(tree) if source.is_given(tree) => {
                seed.deserialize(Reader::new(tree, source)).map(Some)
            }
            Some(_) if self.entries.clone().any(|tree| source.is_given(tree)) => {
                Err(Error::custom("an entry is missing"))
            }
            _ => Ok(None),
        }
    }
}
