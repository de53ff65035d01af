//! An answer written straight into the columns of a table, without a document
//! between.

use serde::ser::{
    Serialize, SerializeMap, SerializeSeq, SerializeStruct, SerializeStructVariant, SerializeTuple,
    SerializeTupleStruct, SerializeTupleVariant, Serializer,
};
use std::fmt;
use std::io::Write as _;
use sumpwright_engine::quantity::{Row, UnitSystem};

use crate::shape::Shape;

/// A place in an answer, and the column that what lies there goes into.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Node {
    members: Vec<(String, Node)>,
    column: Option<(usize, Option<&'static Row>)>,
    passed_over: bool,
}

impl Node {
    /// Sends what lies at `path` to a column. `shape` is that of the record. Where
    /// branches of a choice share the path, numbers are rescaled as those of the first.
    pub(crate) fn insert(&mut self, path: &str, shape: &Shape, column: usize) {
        let row = shape.quantities_at(path).first().copied();
        let mut node = self;
        for step in path.split('.') {
            let place = node.members.iter().position(|(name, _)| name == step);
            let place = place.unwrap_or_else(|| {
                node.members.push((step.to_owned(), Self::default()));
                node.members.len() - 1
            });
            node = &mut node.members[place].1;
        }
        node.column = Some((column, row));
    }

    /// Passes over a member on purpose, so that it does not count as left out.
    pub(crate) fn pass_over(&mut self, name: &str) {
        self.members.push((name.to_owned(), Self { passed_over: true, ..Self::default() }));
    }

    /// What lies at the member `name`.
    #[must_use]
    pub(crate) fn member(&self, name: &str) -> Option<&Self> {
        self.members.iter().find(|(own, _)| own == name).map(|(_, node)| node)
    }
}

/// The cells of one answered row, on the way.
#[derive(Debug, Default)]
pub(crate) struct Leaves {
    written: Vec<u8>,
    spans: Vec<Option<Span>>,
    units: Option<UnitSystem>,
    decimal_comma: bool,
    /// Values that have no column and were not passed over on purpose.
    pub(crate) left_out: usize,
}

#[derive(Debug, Clone, Copy)]
struct Span {
    from: usize,
    to: usize,
    is_text: bool,
}

impl Leaves {
    /// Makes ready for a row of so many columns.
    pub(crate) fn clear(&mut self, columns: usize, units: UnitSystem, decimal_comma: bool) {
        self.written.clear();
        self.spans.clear();
        self.spans.resize(columns, None);
        self.units = Some(units);
        self.decimal_comma = decimal_comma;
        self.left_out = 0;
    }

    /// The cell of a column, and whether it is text and no number.
    #[must_use]
    pub(crate) fn cell(&self, column: usize) -> (&[u8], bool) {
        match self.spans[column] {
            Some(Span { from, to, is_text }) => (&self.written[from..to], is_text),
            None => (b"", false),
        }
    }

    /// Writes the leaves of `answer` that have a column.
    pub(crate) fn write(&mut self, answer: &impl Serialize, root: &Node) {
        // Writing into memory does not fail.
        let _ = answer.serialize(At { node: Some(root), leaves: self });
    }
}

/// Nothing can go wrong, but serde wants a word for it.
#[derive(Debug)]
pub(crate) struct Never;

impl fmt::Display for Never {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("an answer could not be written")
    }
}

impl std::error::Error for Never {}

impl serde::ser::Error for Never {
    fn custom<T: fmt::Display>(_: T) -> Self {
        Self
    }
}

/// Writes what lies at a node.
struct At<'a> {
    node: Option<&'a Node>,
    leaves: &'a mut Leaves,
}

impl At<'_> {
    fn leaf(self, is_text: bool, write: impl FnOnce(&mut Vec<u8>)) {
        let Some(Node { column: Some((column, _)), .. }) = self.node else {
            if self.node.is_none() {
                self.leaves.left_out += 1;
            }
            return;
        };
        let from = self.leaves.written.len();
        write(&mut self.leaves.written);
        let to = self.leaves.written.len();
        self.leaves.spans[*column] = Some(Span { from, to, is_text });
    }
}

macro_rules! whole {
    ($($method:ident $type:ty),*) => {
        $(fn $method(self, value: $type) -> Result<(), Never> {
            self.leaf(false, |out| { let _ = write!(out, "{value}"); });
            Ok(())
        })*
    };
}

impl<'a> Serializer for At<'a> {
    type Ok = ();
    type Error = Never;
    type SerializeSeq = Entries<'a>;
    type SerializeTuple = Entries<'a>;
    type SerializeTupleStruct = Entries<'a>;
    type SerializeTupleVariant = Entries<'a>;
    type SerializeMap = Members<'a>;
    type SerializeStruct = Members<'a>;
    type SerializeStructVariant = Members<'a>;

    whole! {
        serialize_i8 i8, serialize_i16 i16, serialize_i32 i32, serialize_i64 i64,
        serialize_u8 u8, serialize_u16 u16, serialize_u32 u32, serialize_u64 u64,
        serialize_bool bool
    }

    fn serialize_f32(self, value: f32) -> Result<(), Never> {
        self.serialize_f64(f64::from(value))
    }

    fn serialize_f64(self, value: f64) -> Result<(), Never> {
        let Some(Node { column: Some((_, row)), .. }) = self.node else {
            self.leaf(false, |_| {});
            return Ok(());
        };
        let units = self.leaves.units;
        let decimal_comma = self.leaves.decimal_comma;
        let shown = match (row, units) {
            (Some(row), Some(units)) => row.units.from_metric(value, units),
            _ => value,
        };
        self.leaf(false, |out| {
            let from = out.len();
            let _ = serde_json::to_writer(&mut *out, &shown);
            if decimal_comma && let Some(point) = memchr::memchr(b'.', &out[from..]) {
                out[from + point] = b',';
            }
        });
        Ok(())
    }

    fn serialize_char(self, value: char) -> Result<(), Never> {
        self.serialize_str(value.encode_utf8(&mut [0; 4]))
    }

    fn serialize_str(self, value: &str) -> Result<(), Never> {
        self.leaf(true, |out| out.extend_from_slice(value.as_bytes()));
        Ok(())
    }

    fn serialize_bytes(self, _: &[u8]) -> Result<(), Never> {
        Ok(())
    }

    fn serialize_none(self) -> Result<(), Never> {
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), Never> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), Never> {
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), Never> {
        Ok(())
    }

    fn serialize_unit_variant(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
    ) -> Result<(), Never> {
        self.serialize_str(variant)
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        value: &T,
    ) -> Result<(), Never> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        variant: &'static str,
        value: &T,
    ) -> Result<(), Never> {
        let mut members = self.serialize_map(Some(1))?;
        members.member(variant, value)
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Entries<'a>, Never> {
        Ok(Entries { at: self, next: 0 })
    }

    fn serialize_tuple(self, _: usize) -> Result<Entries<'a>, Never> {
        self.serialize_seq(None)
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Entries<'a>, Never> {
        self.serialize_seq(None)
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Entries<'a>, Never> {
        self.serialize_seq(None)
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Members<'a>, Never> {
        Ok(Members { at: self, name: String::new() })
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Members<'a>, Never> {
        self.serialize_map(None)
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        _: &'static str,
        _: usize,
    ) -> Result<Members<'a>, Never> {
        self.serialize_map(None)
    }
}

/// Entries of a list.
pub(crate) struct Entries<'a> {
    at: At<'a>,
    next: usize,
}

impl Entries<'_> {
    fn entry<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Never> {
        let place = self.next;
        self.next += 1;
        let node = self.at.node.and_then(|node| {
            // Entries are mostly all there and in order.
            let is = |(name, _): &&(String, Node)| name.parse() == Ok(place);
            let likely = node.members.get(place).filter(is);
            likely.or_else(|| node.members.iter().find(is)).map(|(_, node)| node)
        });
        value.serialize(At { node, leaves: self.at.leaves })
    }
}

/// Members of an object.
pub(crate) struct Members<'a> {
    at: At<'a>,
    name: String,
}

impl Members<'_> {
    fn member<T: Serialize + ?Sized>(&mut self, name: &str, value: &T) -> Result<(), Never> {
        let node = self.at.node.and_then(|node| node.member(name));
        if node.is_some_and(|node| node.passed_over) {
            return Ok(());
        }
        value.serialize(At { node, leaves: self.at.leaves })
    }
}

macro_rules! entries {
    ($($trait:ident $method:ident),*) => {
        $(impl $trait for Entries<'_> {
            type Ok = ();
            type Error = Never;

            fn $method<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Never> {
                self.entry(value)
            }

            fn end(self) -> Result<(), Never> {
                Ok(())
            }
        })*
    };
}

entries! {
    SerializeSeq serialize_element, SerializeTuple serialize_element,
    SerializeTupleStruct serialize_field, SerializeTupleVariant serialize_field
}

macro_rules! members {
    ($($trait:ident),*) => {
        $(impl $trait for Members<'_> {
            type Ok = ();
            type Error = Never;

            fn serialize_field<T: Serialize + ?Sized>(
                &mut self,
                name: &'static str,
                value: &T,
            ) -> Result<(), Never> {
                self.member(name, value)
            }

            fn end(self) -> Result<(), Never> {
                Ok(())
            }
        })*
    };
}

members! { SerializeStruct, SerializeStructVariant }

impl SerializeMap for Members<'_> {
    type Ok = ();
    type Error = Never;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), Never> {
        // Names of members are text and nothing else.
        let name = serde_json::to_value(key).unwrap_or_default();
        name.as_str().unwrap_or_default().clone_into(&mut self.name);
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Never> {
        let name = std::mem::take(&mut self.name);
        self.member(&name, value)
    }

    fn end(self) -> Result<(), Never> {
        Ok(())
    }
}
