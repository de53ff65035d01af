//! A walk through whatever serialises, in the order of writing, without a document
//! between. Each type is walked through by one piece of code, whatever is made of it:
//! the text of a document, a tree, the cells of a row or the numbers alone.

use serde::de::value::Error;
use serde::ser::{
    Error as _, Serialize, SerializeMap, SerializeSeq, SerializeStruct, SerializeStructVariant,
    SerializeTuple, SerializeTupleStruct, SerializeTupleVariant, Serializer,
};
use std::fmt;

/// What is told while something is walked through. What a sink does not care for, it
/// leaves out.
pub trait LeafSink {
    /// The beginning of an object.
    fn open_members(&mut self) {}
    /// The end of an object.
    fn close_members(&mut self) {}
    /// Goes into a member, unless the answer is no.
    fn enter(&mut self, name: &str) -> bool;
    /// The end of a member.
    fn leave(&mut self);
    /// The beginning of a list.
    fn open_list(&mut self) {}
    /// The end of a list of so many entries.
    fn close_list(&mut self, entries: usize) {
        let _ = entries;
    }
    /// Goes into an entry of a list.
    fn enter_entry(&mut self, place: usize);
    /// The end of an entry.
    fn leave_entry(&mut self);
    /// A number.
    fn number(&mut self, number: f64);
    /// A number that counts something.
    fn whole(&mut self, number: i128) {
        #[expect(clippy::cast_precision_loss, reason = "as JSON has it")]
        self.number(number as f64);
    }
    /// One of a few words.
    fn word(&mut self, word: &'static str);
    /// A text.
    fn text(&mut self, text: &str) {
        let _ = text;
    }
    /// A text that is yet to be written.
    fn display(&mut self, text: &dyn fmt::Display) {
        let _ = text;
    }
    /// True or false.
    fn truth(&mut self, truth: bool) {
        let _ = truth;
    }
    /// A value that is absent.
    fn null(&mut self) {}
}

/// Tells `sink` of everything in `written`.
pub fn write_leaves(written: &(impl Serialize + ?Sized), sink: &mut dyn LeafSink) {
    // Nothing that an answer is made of fails to be walked through.
    let _ = written.serialize(Walker(sink));
}

/// Walks through whatever can be written.
struct Walker<'a>(&'a mut dyn LeafSink);

/// Walks through the parts of something: members, entries, or the value of a
/// variant that is an object of one member.
struct Parts<'a> {
    walk: &'a mut dyn LeafSink,
    place: usize,
    is_list: bool,
    /// Whether they lie in a variant that is left after them.
    in_variant: bool,
    /// Whether the member whose value is due is passed over.
    passed_over: bool,
}

impl Parts<'_> {
    fn member(&mut self, name: &str, value: &(impl Serialize + ?Sized)) -> Result<(), Error> {
        if self.walk.enter(name) {
            value.serialize(Walker(self.walk))?;
            self.walk.leave();
        }
        Ok(())
    }

    fn entry(&mut self, value: &(impl Serialize + ?Sized)) -> Result<(), Error> {
        self.walk.enter_entry(self.place);
        self.place += 1;
        value.serialize(Walker(self.walk))?;
        self.walk.leave_entry();
        Ok(())
    }

    fn finish(self) {
        if self.is_list {
            self.walk.close_list(self.place);
        } else {
            self.walk.close_members();
        }
        if self.in_variant {
            self.walk.leave();
            self.walk.close_members();
        }
    }
}

macro_rules! numbers {
    ($($method:ident: $kind:ty => $told:ident as $as:ty),*) => {
        $(
            #[allow(
                clippy::cast_precision_loss, clippy::cast_lossless, trivial_numeric_casts,
                reason = "as JSON has it"
            )]
            fn $method(self, number: $kind) -> Result<(), Error> {
                self.0.$told(number as $as);
                Ok(())
            }
        )*
    };
}

impl<'a> Walker<'a> {
    fn parts(self, is_list: bool, in_variant: bool) -> Parts<'a> {
        if is_list {
            self.0.open_list();
        } else {
            self.0.open_members();
        }
        Parts { walk: self.0, place: 0, is_list, in_variant, passed_over: false }
    }

    /// The parts of a variant, which is an object of the one member `name`.
    fn variant(self, name: &str, is_list: bool) -> Parts<'a> {
        self.0.open_members();
        self.0.enter(name);
        self.parts(is_list, true)
    }
}

impl<'a> Serializer for Walker<'a> {
    type Ok = ();
    type Error = Error;
    type SerializeSeq = Parts<'a>;
    type SerializeTuple = Parts<'a>;
    type SerializeTupleStruct = Parts<'a>;
    type SerializeTupleVariant = Parts<'a>;
    type SerializeMap = Parts<'a>;
    type SerializeStruct = Parts<'a>;
    type SerializeStructVariant = Parts<'a>;

    numbers! {
        serialize_i8: i8 => whole as i128, serialize_i16: i16 => whole as i128,
        serialize_i32: i32 => whole as i128, serialize_i64: i64 => whole as i128,
        serialize_u8: u8 => whole as i128, serialize_u16: u16 => whole as i128,
        serialize_u32: u32 => whole as i128, serialize_u64: u64 => whole as i128,
        serialize_f32: f32 => number as f64, serialize_f64: f64 => number as f64
    }

    fn serialize_bool(self, truth: bool) -> Result<(), Error> {
        self.0.truth(truth);
        Ok(())
    }

    fn serialize_char(self, letter: char) -> Result<(), Error> {
        self.0.display(&letter);
        Ok(())
    }

    fn serialize_str(self, text: &str) -> Result<(), Error> {
        self.0.text(text);
        Ok(())
    }

    fn collect_str<T: fmt::Display + ?Sized>(self, text: &T) -> Result<(), Error> {
        self.0.display(&text);
        Ok(())
    }

    fn serialize_bytes(self, _: &[u8]) -> Result<(), Error> {
        Err(Error::custom("a document has no bytes in it"))
    }

    fn serialize_none(self) -> Result<(), Error> {
        self.0.null();
        Ok(())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<(), Error> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<(), Error> {
        self.0.null();
        Ok(())
    }

    fn serialize_unit_struct(self, _: &'static str) -> Result<(), Error> {
        self.0.null();
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
        let mut parts = self.parts(false, false);
        parts.member(name, value)?;
        parts.finish();
        Ok(())
    }

    fn serialize_seq(self, _: Option<usize>) -> Result<Parts<'a>, Error> {
        Ok(self.parts(true, false))
    }

    fn serialize_tuple(self, _: usize) -> Result<Parts<'a>, Error> {
        Ok(self.parts(true, false))
    }

    fn serialize_tuple_struct(self, _: &'static str, _: usize) -> Result<Parts<'a>, Error> {
        Ok(self.parts(true, false))
    }

    fn serialize_tuple_variant(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        _: usize,
    ) -> Result<Parts<'a>, Error> {
        Ok(self.variant(name, true))
    }

    fn serialize_map(self, _: Option<usize>) -> Result<Parts<'a>, Error> {
        Ok(self.parts(false, false))
    }

    fn serialize_struct(self, _: &'static str, _: usize) -> Result<Parts<'a>, Error> {
        Ok(self.parts(false, false))
    }

    fn serialize_struct_variant(
        self,
        _: &'static str,
        _: u32,
        name: &'static str,
        _: usize,
    ) -> Result<Parts<'a>, Error> {
        Ok(self.variant(name, false))
    }
}

macro_rules! parts {
    ($(entries $list:ident $entry:ident;)* $(members $record:ident;)*) => {
        $(
            impl $list for Parts<'_> {
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
            impl $record for Parts<'_> {
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

/// Goes into the member whose name is walked through.
struct Named<'a> {
    walk: &'a mut dyn LeafSink,
    enters: Option<bool>,
}

impl LeafSink for Named<'_> {
    fn enter(&mut self, _: &str) -> bool {
        false
    }

    fn leave(&mut self) {}

    fn enter_entry(&mut self, _: usize) {}

    fn leave_entry(&mut self) {}

    fn number(&mut self, _: f64) {}

    fn word(&mut self, word: &'static str) {
        self.text(word);
    }

    fn text(&mut self, text: &str) {
        self.enters = Some(self.walk.enter(text));
    }
}

impl SerializeMap for Parts<'_> {
    type Ok = ();
    type Error = Error;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, name: &T) -> Result<(), Error> {
        let mut named = Named { walk: self.walk, enters: None };
        name.serialize(Walker(&mut named))?;
        let enters = named.enters.ok_or_else(|| Error::custom("a member's name is a text"))?;
        self.passed_over = !enters;
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Error> {
        if !std::mem::take(&mut self.passed_over) {
            value.serialize(Walker(self.walk))?;
            self.walk.leave();
        }
        Ok(())
    }

    fn end(self) -> Result<(), Error> {
        self.finish();
        Ok(())
    }
}
