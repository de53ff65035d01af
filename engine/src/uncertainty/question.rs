//! A question with places left open for numbers, filled anew for every draw
//! without writing or copying a document.

use crate::document::{LeafSource, LeafValue, Misread, Pointer, Reader, Tree};
use serde::Deserialize;
use serde_json::Value;

/// A document of which some numbers are places.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Open {
    tree: Tree,
    leaves: Vec<Leaf>,
}

#[derive(Debug, Clone, PartialEq)]
enum Leaf {
    Null,
    Truth(bool),
    Whole(u64),
    Number(f64),
    Place(usize),
    Text(String),
}

impl Open {
    /// `document` with a place for what lies at each of `pointers`.
    pub(super) fn new(document: &Value, pointers: &[&str]) -> Self {
        let mut leaves = Vec::new();
        let tree = below(document, &mut Pointer::root(), pointers, &mut leaves);
        Self { tree, leaves }
    }

    /// How many numbers it has, places included.
    pub(super) fn numbers(&self) -> usize {
        let is_number =
            |leaf: &&Leaf| matches!(leaf, Leaf::Whole(_) | Leaf::Number(_) | Leaf::Place(_));
        self.leaves.iter().filter(is_number).count()
    }

    /// The question with `numbers` in its places.
    pub(super) fn read<Question>(&self, numbers: &[f64]) -> Result<Question, Misread>
    where
        Question: for<'a> Deserialize<'a>,
    {
        Question::deserialize(Reader::along(&self.tree, &Filled { leaves: &self.leaves, numbers }))
    }
}

fn below(value: &Value, pointer: &mut Pointer, pointers: &[&str], leaves: &mut Vec<Leaf>) -> Tree {
    let mut step = |name: &str, value: &Value| {
        pointer.push(name);
        let tree = below(value, pointer, pointers, leaves);
        pointer.pop();
        tree
    };
    let leaf = match value {
        Value::Null => Leaf::Null,
        Value::Bool(truth) => Leaf::Truth(*truth),
        Value::String(text) => Leaf::Text(text.clone()),
        Value::Array(entries) => {
            let entries = entries.iter().enumerate();
            return Tree::List(entries.map(|(i, entry)| step(&i.to_string(), entry)).collect());
        }
        Value::Object(members) => {
            let members = members.iter();
            return Tree::Members(members.map(|(name, v)| (name.clone(), step(name, v))).collect());
        }
        Value::Number(number) => match pointers.iter().position(|p| *p == pointer.as_str()) {
            Some(place) => Leaf::Place(place),
            None => match number.as_u64() {
                Some(whole) => Leaf::Whole(whole),
                None => Leaf::Number(number.as_f64().unwrap_or(f64::NAN)),
            },
        },
    };
    leaves.push(leaf);
    Tree::Leaf(leaves.len() - 1)
}

/// The leaves of a document, and what stands in its places.
#[derive(Debug, Clone, Copy)]
struct Filled<'a> {
    leaves: &'a [Leaf],
    numbers: &'a [f64],
}

impl LeafSource for Filled<'_> {
    fn value(&self, leaf: usize) -> Result<LeafValue<'_>, &'static str> {
        Ok(match &self.leaves[leaf] {
            Leaf::Null => LeafValue::Null,
            Leaf::Truth(truth) => LeafValue::Truth(*truth),
            Leaf::Whole(whole) => LeafValue::Whole(*whole),
            Leaf::Number(number) => LeafValue::Number(*number),
            Leaf::Place(place) => LeafValue::Number(self.numbers[*place]),
            Leaf::Text(text) => LeafValue::Text(text),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculations::sump::concentration::ConcentrationOfReading;
    use serde_json::json;

    #[test]
    fn a_filled_question_reads_like_the_document_it_stands_for() {
        let mut document = json!({
            "reading": { "method": "refractometer", "brix": 5.0, "factor": 1.25 },
            "band": { "low": 5, "target": 6.0, "high": 7.0 },
        });
        let open = Open::new(&document, &["/reading/brix", "/band/high"]);
        assert_eq!(open.numbers(), 5);
        let filled = open.read::<ConcentrationOfReading>(&[5.5, 8.0]).expect("a question");
        document["reading"]["brix"] = 5.5.into();
        document["band"]["high"] = 8.0.into();
        assert_eq!(filled, serde_json::from_value(document).expect("a question"));
        assert!(open.read::<ConcentrationOfReading>(&[-1.0, 8.0]).is_err());
    }
}
