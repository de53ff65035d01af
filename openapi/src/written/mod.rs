//! A record written down: as the bytes of a document, or as a tree.

mod bytes;
mod tree;

use crate::request::problem::{Problem, ProblemKind};
use bytes::JsonBytes;
use serde::Serialize;
use serde_json::Value;
use sumpwright_engine::document::write_leaves;
use tree::JsonTree;

/// So long is an answer at most, in bytes.
pub(crate) const ANSWER_MOST: usize = 16 << 20;

/// A record as bytes, unless they are more than an answer may have.
pub(crate) fn as_bytes(record: &impl Serialize) -> Result<Vec<u8>, Problem> {
    // Room for an ordinary answer, so that the buffer does not have to grow.
    let mut bytes = JsonBytes::kept(4096);
    write_leaves(record, &mut bytes);
    bytes.finish().ok_or_else(too_long)
}

/// A record as a tree, which takes many times the room of its bytes: how many those are
/// is known before.
pub(crate) fn as_tree(record: &impl Serialize) -> Result<Value, Problem> {
    let mut counted = JsonBytes::counted();
    write_leaves(record, &mut counted);
    counted.finish().ok_or_else(too_long)?;
    let mut tree = JsonTree::default();
    write_leaves(record, &mut tree);
    Ok(tree.finish())
}

fn too_long() -> Problem {
    let detail = "The answer would be longer than 16 MiB, the maximum. Ask for less at once: \
                  fewer days, sumps, stocks or properties.";
    Problem::plain(ProblemKind::TooLarge, detail)
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

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
        let bytes = as_bytes(&everything).expect("it is short");
        assert_eq!(String::from_utf8(bytes).ok(), serde_json::to_string(&everything).ok());
        let tree = as_tree(&everything).expect("it is short");
        assert_eq!(Some(&tree), serde_json::to_value(&everything).ok().as_ref());
        assert_eq!(as_bytes(&tree).ok(), serde_json::to_vec(&tree).ok());
        for leaf in [json!(null), json!("x"), json!(1), json!(2.5), json!([]), json!({})] {
            assert_eq!(as_bytes(&leaf).ok(), serde_json::to_vec(&leaf).ok());
            assert_eq!(as_tree(&leaf).ok(), Some(leaf));
        }
    }

    #[test]
    fn an_answer_that_is_too_long_is_refused_either_way() {
        let most = vec!["x".repeat(1 << 20); 15];
        assert!(as_bytes(&most).is_ok());
        let more = vec!["x".repeat(1 << 20); 17];
        for problem in [as_bytes(&more).err(), as_tree(&more).err()] {
            assert_eq!(problem.and_then(|problem| problem.kind()), Some(ProblemKind::TooLarge));
        }
    }
}
