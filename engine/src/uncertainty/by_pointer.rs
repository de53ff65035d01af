//! Things kept by the JSON pointer of what they are about, in their own order.

use serde::de::{MapAccess, Visitor};
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::fmt;
use std::marker::PhantomData;

/// An object on the wire, its members in the order of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct ByPointer<T>(pub Vec<(String, T)>);

impl<T> ByPointer<T> {
    /// What is kept for `pointer`.
    #[must_use]
    pub fn get(&self, pointer: &str) -> Option<&T> {
        self.0.iter().find(|(own, _)| own == pointer).map(|(_, kept)| kept)
    }
}

impl<T: Serialize> Serialize for ByPointer<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (pointer, kept) in &self.0 {
            map.serialize_entry(pointer, kept)?;
        }
        map.end()
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for ByPointer<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_map(ByPointerVisitor(PhantomData))
    }
}

struct ByPointerVisitor<T>(PhantomData<T>);

impl<'de, T: Deserialize<'de>> Visitor<'de> for ByPointerVisitor<T> {
    type Value = ByPointer<T>;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an object with JSON pointers for names")
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Self::Value, A::Error> {
        let mut kept = Vec::with_capacity(map.size_hint().unwrap_or(0));
        while let Some(entry) = map.next_entry()? {
            kept.push(entry);
        }
        Ok(ByPointer(kept))
    }
}
