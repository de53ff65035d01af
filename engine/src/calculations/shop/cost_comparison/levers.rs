//! The numbers of a request that can be changed to see what comes of it.
//!
//! The request is taken as the document it came as. Each number in it is found by
//! its JSON pointer, its kind read from the published schema, and the request
//! calculated again with another number in its place.

use super::CostComparison;
use super::amount::Amount;
use crate::document::{Pointer, Shape};
use crate::quantity::Row;
use crate::text::Refusal;
use serde::Deserialize;
use serde_json::{Number, Value};
use std::sync::LazyLock;

/// A number of the request.
#[derive(Debug, Clone)]
pub(super) struct Lever {
    /// Where it stands.
    pub(super) pointer: String,
    /// What it is in the request's own words.
    pub(super) what: String,
    /// Its kind.
    pub(super) row: &'static Row,
    /// What the request has there.
    pub(super) given: f64,
}

impl Lever {
    pub(super) fn amount(&self, metric: f64) -> Result<Amount, Refusal> {
        Amount::of(self.row, metric)
    }

    /// Whether it says when something happens, so that costs jump with it.
    pub(super) fn is_a_date(&self) -> bool {
        self.pointer.ends_with("_years")
    }
}

/// All numbers of a request that costs can depend on.
pub(super) struct Levers(pub(super) Vec<Lever>);

impl Levers {
    /// The numbers of the request that `trials` are made on.
    pub(super) fn of(trials: &Trials) -> Self {
        let numbers = QUESTION.numbers(&trials.0).into_iter();
        let levers = numbers.map(|(pointer, row, given)| Lever {
            what: in_words(&trials.0, &pointer),
            pointer: pointer.into(),
            row,
            given,
        });
        Self(levers.collect())
    }

    pub(super) fn at(&self, pointer: &str) -> Option<&Lever> {
        self.0.iter().find(|lever| lever.pointer == pointer)
    }
}

/// A request on which other numbers are tried out.
pub(super) struct Trials(Value);

impl Trials {
    pub(super) fn on(question: &CostComparison) -> Self {
        let bare = CostComparison { break_even: None, vary_by: None, ..question.clone() };
        Self(serde_json::to_value(bare).unwrap_or_default())
    }

    /// What each way costs, in money of now, with other numbers in the places of
    /// `changes`; nothing where the request would be refused.
    pub(super) fn present_costs(&mut self, changes: &[(&Lever, f64)]) -> Option<Vec<f64>> {
        let mut complete = true;
        for (lever, number) in changes {
            complete &= self.put(lever, *number);
        }
        let changed = if complete { CostComparison::deserialize(&self.0).ok() } else { None };
        for (lever, _) in changes {
            self.put(lever, lever.given);
        }
        changed?.present_costs()
    }

    /// Puts a number in the place of a lever, if it can be written.
    fn put(&mut self, lever: &Lever, number: f64) -> bool {
        let place = self.0.pointer_mut(&lever.pointer).zip(Number::from_f64(number));
        place.map(|(place, number)| *place = Value::Number(number)).is_some()
    }
}

/// What may stand in a request.
static QUESTION: LazyLock<Shape> = LazyLock::new(Shape::of_type::<CostComparison>);

/// The way to a number in the shop's words: what is named by its name, and members by their titles.
fn in_words(document: &Value, pointer: &Pointer) -> String {
    let mut words = Vec::new();
    let (mut value, mut shape) = (document, &*QUESTION);
    for step in pointer.steps() {
        if let Some(name) = value["name"].as_str() {
            words.push(name.to_owned());
        }
        let (inner, of_inner) = match (value, shape) {
            (Value::Array(entries), Shape::List(entry, _)) => {
                (step.parse::<usize>().ok().and_then(|at| entries.get(at)), Some(&**entry))
            }
            (value, shape) => (value.get(step.as_ref()), shape.member(&step)),
        };
        let Some((inner, of_inner)) = inner.zip(of_inner) else { break };
        // Two names say where it is: what lies between them and the number is left out.
        let says_more = !inner.is_array() && (words.len() < 2 || !inner.is_object());
        if let Some(title) = shape.title(&step).filter(|_| says_more) {
            words.push(within_a_sentence(title));
        }
        (value, shape) = (inner, of_inner.fitting(inner).unwrap_or(of_inner));
    }
    words.join(": ")
}

fn within_a_sentence(title: &str) -> String {
    let mut letters = title.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().collect::<String>() + letters.as_str()
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calculation::Calculation;

    #[test]
    fn every_kind_of_number_in_a_request_has_a_name_in_answers() {
        let mut rows: Vec<&Row> = Vec::new();
        QUESTION.visit(&mut |shape| {
            if let Shape::Number(Some(row)) = shape
                && !rows.contains(row)
            {
                rows.push(row);
            }
        });
        for row in &rows {
            let amount = Amount::of(row, 1.0).expect("in range");
            assert_ne!(amount, Amount::default(), "{} has no name", row.name);
        }
        assert!(rows.len() > 10, "only {} kinds were found", rows.len());
    }

    #[test]
    fn an_input_is_told_as_the_shop_calls_it() {
        let document: Value = serde_json::from_str(CostComparison::EXAMPLE).expect("JSON");
        for (pointer, what) in [
            ("/ways/3/clean_out_ratio", "shared central system: clean-outs for each planned"),
            ("/machines/0/count", "lathes: number of machines"),
            ("/prices/idle_machine", "prices: idle machine"),
            ("/ways/1/prices/disposal", "hired tanker: own prices: disposal"),
            ("/ways/1/fees/0/amount", "hired tanker: tanker with its driver: amount"),
            (
                "/ways/0/purchases/0/running/hours_per_clean_out",
                "pump and drums: drum pump and hoses: hours for a clean-out",
            ),
            ("/discount_rate", "discount rate"),
        ] {
            assert_eq!(in_words(&document, &Pointer::from(pointer)), what);
        }
    }
}
