//! A record written down: as the bytes of a document, or as a tree.

mod bytes;
mod tree;

use crate::extent::{Brief, Extent};
use crate::request::envelope::{REFERENCE, Record};
use crate::request::problem::{Problem, ProblemKind};
use bytes::JsonBytes;
use serde::Serialize;
use serde_json::Value;
use sumpwright_engine::document::{LeafSink, write_leaves};
use sumpwright_engine::quantity::{UnitSystem, in_units};
use tree::JsonTree;

/// So long is an answer at most, in bytes.
pub(crate) const ANSWER_MOST: usize = 16 << 20;

/// What can be written down to an extent.
pub(crate) trait Written {
    /// Tells `sink` of everything in it.
    fn write(&self, extent: Extent, sink: &mut dyn LeafSink);

    /// The caller's own reference.
    fn reference(&self) -> Option<&str>;

    /// The units that it is written in.
    fn units(&self) -> UnitSystem;
}

impl<Answer: Serialize> Written for Record<Answer> {
    fn write(&self, extent: Extent, sink: &mut dyn LeafSink) {
        match extent {
            Extent::Record => write_leaves(self, sink),
            Extent::Minimal => write_leaves(&Brief::of(self), sink),
        }
    }

    fn reference(&self) -> Option<&str> {
        self.reference.as_deref()
    }

    fn units(&self) -> UnitSystem {
        self.units
    }
}

/// Appends a record to `out` in its units, unless it has more bytes than an answer may have.
pub(crate) fn append(
    record: &dyn Written,
    extent: Extent,
    out: &mut Vec<u8>,
) -> Result<(), Problem> {
    appending(out, record.reference(), |bytes| {
        in_units(record.units(), || record.write(extent, bytes));
    })
}

/// The same of a record that is a tree.
pub(crate) fn append_tree(record: &Value, out: &mut Vec<u8>) -> Result<(), Problem> {
    appending(out, record[REFERENCE].as_str(), |bytes| write_leaves(record, bytes))
}

fn appending(
    out: &mut Vec<u8>,
    reference: Option<&str>,
    write: impl FnOnce(&mut JsonBytes),
) -> Result<(), Problem> {
    // Room for an ordinary answer, so that the buffer does not have to grow.
    out.reserve(4096);
    let mut bytes = JsonBytes::after(out);
    write(&mut bytes);
    if bytes.finish() { Ok(()) } else { Err(too_long(reference)) }
}

/// A record as a tree in its units, which takes many times the room of its bytes: how many
/// those are is known before.
pub(crate) fn as_tree(record: &dyn Written) -> Result<Value, Problem> {
    in_units(record.units(), || in_tree(record))
}

fn in_tree(record: &dyn Written) -> Result<Value, Problem> {
    let mut scratch = Vec::with_capacity(256);
    let mut counted = JsonBytes::counted(&mut scratch);
    record.write(Extent::Record, &mut counted);
    if !counted.finish() {
        return Err(too_long(record.reference()));
    }
    let mut tree = JsonTree::default();
    record.write(Extent::Record, &mut tree);
    Ok(tree.finish())
}

fn too_long(reference: Option<&str>) -> Problem {
    let detail = "The answer would be longer than 16 MiB, the maximum. Ask for less at once: \
                  fewer days, sumps, stocks or properties.";
    let mut problem = Problem::plain(ProblemKind::TooLarge, detail);
    problem.reference = reference.map(str::to_owned);
    problem
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    /// Anything that serialises, whole.
    struct Whole<T>(T);

    impl<T: Serialize> Written for Whole<T> {
        fn write(&self, _: Extent, sink: &mut dyn LeafSink) {
            write_leaves(&self.0, sink);
        }

        fn reference(&self) -> Option<&str> {
            Some("what is written here")
        }

        fn units(&self) -> UnitSystem {
            UnitSystem::Metric
        }
    }

    fn bytes_of(value: impl Serialize) -> Result<Vec<u8>, Problem> {
        let mut bytes = b"before".to_vec();
        let appended = append(&Whole(value), Extent::Record, &mut bytes);
        assert_eq!(bytes.drain(.."before".len()).collect::<Vec<u8>>(), b"before");
        assert_eq!(appended.is_err(), bytes.is_empty());
        appended.map(|()| bytes)
    }

    fn tree_of(value: impl Serialize) -> Result<Value, Problem> {
        as_tree(&Whole(value))
    }

    #[derive(Serialize)]
    enum Variant {
        Word,
        One(f64),
        Two(f64, u8),
        Named { a: i8, b: Option<bool> },
    }

    #[derive(Serialize)]
    struct Everything {
        numbers: Vec<f64>,
        whole: (u64, i64),
        text: &'static str,
        letter: char,
        none: Option<f64>,
        empty: (Vec<f64>, std::collections::BTreeMap<String, f64>),
        map: std::collections::BTreeMap<String, Vec<Variant>>,
        variants: Vec<Variant>,
    }

    /// What serde_json itself writes is the measure of both ways.
    #[test]
    fn bytes_and_tree_are_those_of_the_library() {
        let variants = || vec![Variant::Word, Variant::One(-0.0), Variant::Two(1e300, 7)];
        let everything = Everything {
            numbers: vec![0.1, 1.0, -2.5e-9, 53.800000000000004, f64::NAN, f64::INFINITY],
            whole: (u64::MAX, i64::MIN),
            text: "\"quoted\" \u{1} \n é 😀 \\ /",
            letter: '"',
            none: None,
            empty: (Vec::new(), std::collections::BTreeMap::new()),
            map: [("a \"b\"".to_owned(), variants()), ("c".to_owned(), Vec::new())].into(),
            variants: vec![
                Variant::Named { a: -1, b: None },
                Variant::Named { a: 1, b: Some(true) },
            ],
        };
        let bytes = bytes_of(&everything).expect("it is short");
        assert_eq!(String::from_utf8(bytes).ok(), serde_json::to_string(&everything).ok());
        let tree = tree_of(&everything).expect("it is short");
        assert_eq!(Some(&tree), serde_json::to_value(&everything).ok().as_ref());
        assert_eq!(bytes_of(&tree).ok(), serde_json::to_vec(&tree).ok());
        for leaf in [json!(null), json!("x"), json!(1), json!(2.5), json!([]), json!({})] {
            assert_eq!(bytes_of(&leaf).ok(), serde_json::to_vec(&leaf).ok());
            assert_eq!(tree_of(&leaf).ok(), Some(leaf));
        }
    }

    #[test]
    fn an_answer_that_is_too_long_is_refused_either_way() {
        let most = vec!["x".repeat(1 << 20); 15];
        assert!(bytes_of(&most).is_ok());
        let more = vec!["x".repeat(1 << 20); 17];
        for problem in [bytes_of(&more).err(), tree_of(&more).err()] {
            assert_eq!(problem.and_then(|problem| problem.kind()), Some(ProblemKind::TooLarge));
        }
    }
}
