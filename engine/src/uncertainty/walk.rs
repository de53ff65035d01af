//! A walk through the numbers of whatever can be written, in the order of writing.

use serde::de::value::Error;
use serde::ser::{
    Error as _, Serialize, SerializeMap, SerializeSeq, SerializeStruct, SerializeStructVariant,
    SerializeTuple, SerializeTupleStruct, SerializeTupleVariant, Serializer,
};
use serde_json::Value;

/// What is told of an answer while it is walked through.
pub(super) trait Walk {
    /// A member, until it is left.
    fn enter(&mut self, name: &str);
    /// The end of a member.
    fn leave(&mut self);
    /// The end of a list of so many entries.
    fn close_list(&mut self, entries: usize);
    /// An entry of a list, until it is left.
    fn entry(&mut self, place: usize);
    /// The end of an entry.
    fn leave_entry(&mut self);
    /// One of a few words.
    fn word(&mut self, word: &'static str);
    /// A number.
    fn number(&mut self, number: f64);
}

/// Walks through whatever can be written.
pub(super) struct Walker<'a, W>(pub(super) &'a mut W);

/// Walks through the parts of something: members, entries, or the value of a
/// variant that is an object of one member.
pub(super) struct Parts<'a, W> {
    walk: &'a mut W,
    place: usize,
    kind: Kind,
}

/// What the parts are of.
enum Kind {
    Object,
    List,
    Variant,
}

impl<W: Walk> Parts<'_, W> {
    fn member(&mut self, name: &str, value: &(impl Serialize + ?Sized)) -> Result<(), Error> {
        self.walk.enter(name);
        value.serialize(Walker(self.walk))?;
        self.walk.leave();
        Ok(())
    }

    fn entry(&mut self, value: &(impl Serialize + ?Sized)) -> Result<(), Error> {
        self.walk.entry(self.place);
        self.place += 1;
        value.serialize(Walker(self.walk))?;
        self.walk.leave_entry();
        Ok(())
    }

    fn finish(self) {
        match self.kind {
            Kind::Object => {}
            Kind::List => self.walk.close_list(self.place),
            Kind::Variant => self.walk.leave(),
        }
    }
}

macro_rules! numbers {
    ($($method:ident: $kind:ty),*) => {
        $(
            #[allow(clippy::cast_precision_loss, clippy::cast_lossless, reason = "as JSON has it")]
            fn $method(self, number: $kind) -> Result<(), Error> {
                self.0.number(number as f64);
                Ok(())
            }
        )*
    };
}

impl<'a, W: Walk> Walker<'a, W> {
    fn object(self) -> Parts<'a, W> {
        Parts { walk: self.0, place: 0, kind: Kind::Object }
    }

    fn list(self) -> Parts<'a, W> {
        Parts { walk: self.0, place: 0, kind: Kind::List }
    }

    fn variant(self, name: &str) -> Parts<'a, W> {
        self.0.enter(name);
        Parts { walk: self.0, place: 0, kind: Kind::Variant }
    }
}

impl<'a, W: Walk> Serializer for Walker<'a, W> {
    type Ok = ();
    type Error = Error;
    type SerializeSeq = Parts<'a, W>;
    type SerializeTuple = Parts<'a, W>;
    type SerializeTupleStruct = Parts<'a, W>;
    type SerializeTupleVariant = Parts<'a, W>;
    type SerializeMap = Parts<'a, W>;
    type SerializeStruct = Parts<'a, W>;
    type SerializeStructVariant = Parts<'a, W>;

    numbers! {
        serialize_i8: i8, serialize_i16: i16, serialize_i32: i32, serialize_i64: i64,
        serialize_u8: u8, serialize_u16: u16, serialize_u32: u32, serialize_u64: u64,
        serialize_f32: f32, serialize_f64: f64
    }

    fn serialize_bool(self, _: bool) -> Result<(), Error> {
        Ok(())
    }

    fn serialize_char(self, _: char) -> Result<(), Error> {
        Ok(())
    }

    fn serialize_str(self, _: &str) -> Result<(), Error> {
        Ok(())
    }

    fn collect_str<T: ?Sized>(self, _: &T) -> Result<(), Error> {
        Ok(())
    }

    fn serialize_bytes(self, _: &[u8]) -> Result<(), Error> {
        Ok(())
    }

    fn serialize_none(self) -> Result<(), Error> {
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), Error> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), Error> {
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), Error> {
        Ok(())
    }

    fn serialize_unit_variant(
        self,
        _: &'static str,
        _: u32,
        word: &'static str,
    ) -> Result<(), Error> {
        self.0.word(word);
        Ok(())
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        value: &T,
    ) -> Result<(), Error> {
        value.serialize(self)
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        value: &T,
    ) -> Result<(), Error> {
        self.object().member(name, value)
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Parts<'a, W>, Error> {
        Ok(self.list())
    }

    fn serialize_tuple(self, _: usize) -> Result<Parts<'a, W>, Error> {
        Ok(self.list())
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Parts<'a, W>, Error> {
        Ok(self.list())
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        _: usize,
    ) -> Result<Parts<'a, W>, Error> {
        Ok(self.variant(name))
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Parts<'a, W>, Error> {
        Ok(self.object())
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Parts<'a, W>, Error> {
        Ok(self.object())
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        _: usize,
    ) -> Result<Parts<'a, W>, Error> {
        Ok(self.variant(name))
    }
}

macro_rules! parts {
    ($(entries $list:ident $entry:ident;)* $(members $record:ident;)*) => {
        $(
            impl<W: Walk> $list for Parts<'_, W> {
                type Ok = ();
                type Error = Error;

                fn $entry<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Error> {
                    self.entry(value)
                }

                fn end(self) -> Result<(), Error> {
                    self.finish();
                    Ok(())
                }
            }
        )*
        $(
            impl<W: Walk> $record for Parts<'_, W> {
                type Ok = ();
                type Error = Error;

                fn serialize_field<T: Serialize + ?Sized>(
                    &mut self,
                    name: &'static str,
                    value: &T,
                ) -> Result<(), Error> {
                    self.member(name, value)
                }

                fn end(self) -> Result<(), Error> {
                    self.finish();
                    Ok(())
                }
            }
        )*
    };
}

parts! {
    entries SerializeSeq serialize_element;
    entries SerializeTuple serialize_element;
    entries SerializeTupleStruct serialize_field;
    entries SerializeTupleVariant serialize_field;
    members SerializeStruct;
    members SerializeStructVariant;
}

impl<W: Walk> SerializeMap for Parts<'_, W> {
    type Ok = ();
    type Error = Error;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, name: &T) -> Result<(), Error> {
        match serde_json::to_value(name) {
            Ok(Value::String(name)) => self.walk.enter(&name),
            _ => return Err(Error::custom("a member's name is a text")),
        }
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Error> {
        value.serialize(Walker(self.walk))?;
        self.walk.leave();
        Ok(())
    }

    fn end(self) -> Result<(), Error> {
        Ok(())
    }
}
