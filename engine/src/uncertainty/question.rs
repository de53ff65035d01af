//! A question with places left open for numbers, filled anew for every draw
//! without writing or copying a document.

use crate::document::{LeafSource, Pointer, Reader, Tree};
use serde::Deserialize;
use serde::de::Visitor;
use serde::de::value::Error;
use serde_json::Value;

/// A document of which some numbers are places.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Open(Tree<Leaf>);

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
        Self(below(document, &mut Pointer::root(), pointers))
    }

    /// How many numbers it has, places included.
    pub(super) fn numbers(&self) -> usize {
        numbers(&self.0)
    }

    /// The question with `numbers` in its places.
    pub(super) fn read<'a, Question: Deserialize<'a>>(
        &'a self,
        numbers: &'a [f64],
    ) -> Result<Question, Error> {
        Question::deserialize(Reader::new(&self.0, Numbers(numbers)))
    }
}

fn below(value: &Value, pointer: &mut Pointer, pointers: &[&str]) -> Tree<Leaf> {
    let mut step = |name: &str, value: &Value| {
        pointer.push(name);
        let tree = below(value, pointer, pointers);
        pointer.pop();
        tree
    };
    Tree::Leaf(match value {
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
    })
}

fn numbers(tree: &Tree<Leaf>) -> usize {
    match tree {
        Tree::Leaf(Leaf::Whole(_) | Leaf::Number(_) | Leaf::Place(_)) => 1,
        Tree::List(entries) => entries.iter().map(numbers).sum(),
        Tree::Members(members) => members.iter().map(|(_, tree)| numbers(tree)).sum(),
        Tree::Leaf(Leaf::Null | Leaf::Truth(_) | Leaf::Text(_)) | Tree::Gap => 0,
    }
}

/// What stands in the places.
#[derive(Debug, Clone, Copy)]
struct Numbers<'a>(&'a [f64]);

impl LeafSource for Numbers<'_> {
    type Leaf = Leaf;

    fn is_given(self, _: &Tree<Leaf>) -> bool {
        true
    }

    fn read<'de, V: Visitor<'de>>(self, leaf: &'de Leaf, visitor: V) -> Result<V::Value, Error>
    where
        Self: 'de,
    {
        match leaf {
            Leaf::Null => visitor.visit_unit(),
            Leaf::Truth(truth) => visitor.visit_bool(*truth),
            Leaf::Whole(whole) => visitor.visit_u64(*whole),
            Leaf::Number(number) => visitor.visit_f64(*number),
            Leaf::Place(place) => visitor.visit_f64(self.0[*place]),
            Leaf::Text(text) => visitor.visit_borrowed_str(text),
        }
    }

    fn text<'de>(self, leaf: &'de Leaf) -> Option<&'de str>
    where
        Self: 'de,
    {
        match leaf {
            Leaf::Text(text) => Some(text),
            _ => None,
        }
    }

    fn is_null(self, leaf: &Leaf) -> bool {
        *leaf == Leaf::Null
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
