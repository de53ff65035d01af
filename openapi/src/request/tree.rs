//! JSON read as a tree, more strictly than usual: a member given twice is a
//! fault, because nobody can know which of the two was meant, and a document with
//! more values than any question needs is not read to its end.
//!
//! JSON is UTF-8 without a byte order mark (RFC 8259, section 8.1). Windows editors write
//! one, and it is ignored, as the RFC allows.

use crate::request::not_json::{lies_too_deep, stopped_at, why_empty_or_not_utf_8, why_not_json};
use crate::request::problem::{FaultCode, Problem, ProblemKind, RequestFault};
use serde::Deserializer;
use serde::de::{DeserializeSeed, Error, MapAccess, SeqAccess, Visitor};
use serde_json::{Map, Number, Value};
use serde_path_to_error::Track;
use std::cell::Cell;
use std::fmt;
use sumpwright_engine::document::Pointer;

/// The byte order mark that some programs put before UTF-8.
pub const BYTE_ORDER_MARK: &[u8] = b"\xef\xbb\xbf";

/// Maximum number of values in a document, counting members and the entries of all
/// lists: more than 8 MiB of any realistic question contain.
const VALUES_MOST: usize = 500_000;

/// Reads a document, or says where it stops being JSON.
pub fn parse(bytes: &[u8]) -> Result<Value, Problem> {
    let bytes = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
    if let Some(detail) = why_empty_or_not_utf_8(bytes) {
        return Err(Problem::of_whole(FaultCode::NotJson, detail));
    }
    let mut json = serde_json::Deserializer::from_slice(bytes);
    let mut track = Track::new();
    let (left, given_twice) = (Cell::new(VALUES_MOST), Cell::new(false));
    let tree = Tree { left: &left, given_twice: &given_twice, was_there: false };
    let tree = tree.deserialize(serde_path_to_error::Deserializer::new(&mut json, &mut track));
    let value = tree.map_err(|error| {
        let fault = |code, detail: String| {
            Problem::new(RequestFault::new(code, pointer(&track.path()), detail))
        };
        if left.get() == 0 {
            too_many()
        } else if given_twice.get() {
            fault(FaultCode::GivenTwice, "This is given twice. Leave one of them out.".to_owned())
        } else if lies_too_deep(&error) {
            too_deep()
        } else if too_large_number(bytes, &error) {
            let detail = "The number is too large for a computer. Check it.";
            fault(FaultCode::NotFinite, detail.to_owned())
        } else {
            fault(FaultCode::NotJson, why_not_json(bytes, &error))
        }
    })?;
    json.end().map(|()| value).map_err(|error| trailing(&error))
}

/// The place is not told: it lies a hundred steps deep.
fn too_deep() -> Problem {
    let detail = "Lists and objects lie in each other deeper than 128 levels, the maximum. No question does: \
                  check what wrote the document.";
    Problem::of_whole(FaultCode::WrongShape, detail)
}

fn too_many() -> Problem {
    let detail = format!(
        "The document contains more than {VALUES_MOST} values, the maximum. Send less, or \
         several documents."
    );
    Problem::plain(ProblemKind::TooLarge, detail)
}

/// Whether reading stopped at a correctly written number that is too large.
fn too_large_number(bytes: &[u8], error: &serde_json::Error) -> bool {
    let (line, at) = stopped_at(bytes, error);
    let of_number = |byte: &u8| byte.is_ascii_digit() || b"+-.eE".contains(byte);
    let from = line[..at].iter().rposition(|byte| !of_number(byte)).map_or(0, |i| i + 1);
    let to = line[at..].iter().position(|byte| !of_number(byte)).map_or(line.len(), |i| at + i);
    let number = std::str::from_utf8(&line[from..to]).ok().and_then(|text| text.parse().ok());
    number.is_some_and(f64::is_infinite)
}

fn trailing(error: &serde_json::Error) -> Problem {
    let (line, column) = (error.line(), error.column());
    let detail = format!(
        "Something follows the end of the document at line {line}, column {column}. Send one \
         document at a time."
    );
    Problem::of_whole(FaultCode::NotJson, detail)
}

/// A path of serde as a JSON pointer.
#[must_use]
pub fn pointer(path: &serde_path_to_error::Path) -> Pointer {
    use serde_path_to_error::Segment;
    let mut pointer = Pointer::root();
    for segment in path {
        match segment {
            Segment::Seq { index } => pointer.push_place(*index),
            Segment::Map { key } => pointer.push(key),
            // The variant of a choice that was tried, or an unknown place:
            // neither is a step in the document.
            Segment::Enum { .. } | Segment::Unknown => {}
        }
    }
    pointer
}

/// Reads a value; the document may contain this many more.
#[derive(Clone, Copy)]
struct Tree<'a> {
    left: &'a Cell<usize>,
    /// Notes that a member is given twice.
    given_twice: &'a Cell<bool>,
    /// Whether the value's own member was given before, which is refused at the member's
    /// own place in the document.
    was_there: bool,
}

impl<'de> DeserializeSeed<'de> for Tree<'_> {
    type Value = Value;

    fn deserialize<D: Deserializer<'de>>(self, deserializer: D) -> Result<Value, D::Error> {
        if self.was_there {
            self.given_twice.set(true);
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
        while let Some(entry) = list.next_element_seed(Tree { was_there: false, ..self })? {
            entries.push(entry);
        }
        Ok(Value::Array(entries))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Value, A::Error> {
        let mut members = Map::new();
        while let Some(name) = map.next_key::<String>()? {
            let was_there = members.contains_key(&name);
            let value = map.next_value_seed(Tree { was_there, ..self })?;
            members.insert(name, value);
        }
        Ok(Value::Object(members))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_wrong_with_a_text_that_is_not_json_is_told_by_its_code_and_its_place() {
        for (text, code, pointer, part) in [
            ("{\"a\": 1,}", FaultCode::NotJson, "", "line 1, column 9. '}' is not"),
            ("{\"a\": [1, 2\n, x]}", FaultCode::NotJson, "/a/2", "line 2, column 3. 'x' is not"),
            ("{\"a\": \"b", FaultCode::NotJson, "/a", "ends too soon"),
            ("{\"a\": {\"b\": -1.5e999}}", FaultCode::NotFinite, "/a/b", "too large"),
            ("{\"a\": {\"b\": 1, \"b\": 2}}", FaultCode::GivenTwice, "/a/b", "twice"),
            ("{\"a\": NaN}", FaultCode::NotJson, "/a", "'N' is not"),
            ("{} {}", FaultCode::NotJson, "", "follows the end"),
            ("", FaultCode::NotJson, "", "document is empty"),
            (" \r\n", FaultCode::NotJson, "", "document is empty"),
            ("\u{feff}", FaultCode::NotJson, "", "document is empty"),
            (
                "{\"a\": 5,6}",
                FaultCode::NotJson,
                "",
                "Is 5,6 written with a decimal comma? Write 5.6.",
            ),
            ("{\"a\": -12,05 }", FaultCode::NotJson, "", "Write -12.05."),
            ("{\"a\": {\"b\": 140,5,\n\"c\": 1}}", FaultCode::NotJson, "/a", "Write 140.5."),
            ("{\"a\": 5, 6}", FaultCode::NotJson, "", "'6' is not"),
        ] {
            let fault = fault(text.as_bytes());
            assert_eq!((fault.code, fault.pointer.as_str()), (code, pointer), "{text}: {fault:?}");
            assert!(fault.detail.contains(part), "{text}: {fault:?}");
        }
    }

    fn fault(bytes: &[u8]) -> RequestFault {
        let problem = parse(bytes).expect_err("it is no JSON");
        let [fault] = problem.errors.as_slice() else { panic!("{problem:?}") };
        fault.clone()
    }

    #[test]
    fn a_byte_order_mark_is_taken_and_other_encodings_are_named() {
        let marked = [BYTE_ORDER_MARK, b"{\"a\": 1}"].concat();
        assert_eq!(parse(&marked), Ok(serde_json::json!({ "a": 1 })));
        // A place is told as an editor counts, which does not show the mark.
        let wrong = [BYTE_ORDER_MARK, b"{\"a\": x}"].concat();
        assert!(fault(&wrong).detail.contains("line 1, column 7"), "{:?}", fault(&wrong));

        let utf_16 = |bytes: fn(u16) -> [u8; 2], mark: &str| {
            format!("{mark}{{}}").encode_utf16().flat_map(bytes).collect::<Vec<u8>>()
        };
        for mark in ["", "\u{feff}"] {
            for bytes in [u16::to_le_bytes, u16::to_be_bytes] {
                let detail = fault(&utf_16(bytes, mark)).detail;
                assert_eq!(detail, "The document is in UTF-16. Save it as UTF-8.");
            }
        }
        let latin = fault(b"{\n\"b\": \"M\xfchle\"}").detail;
        assert!(
            latin.contains("line 2, column 8") && latin.contains("Save it as UTF-8"),
            "{latin}"
        );
    }
}
