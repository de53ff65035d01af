//! The numbers of a request that can be changed to see what comes of it.
//!
//! The request is taken as the document it came as. Each number in it is found by
//! its JSON pointer, its kind read from the published schema, and the request
//! calculated again with another number in its place.

use super::CostComparison;
use super::amount::Amount;
use crate::quantity::{Row, TABLE};
use crate::text::Refusal;
use serde::Deserialize;
use serde_json::{Map, Number, Value};
use utoipa::{PartialSchema, ToSchema};

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
        let components = Components::of_the_question();
        let root = components.0.get(Components::ROOT).cloned().unwrap_or_default();
        let mut all = Vec::new();
        components.walk(&trials.0, &root, &Place::default(), &mut all);
        Self(all)
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

/// Where a number stands, for programs and for people.
#[derive(Debug, Clone, Default)]
struct Place {
    pointer: String,
    names: Vec<String>,
}

impl Place {
    fn member(&self, name: &str) -> Self {
        let mut place = self.clone();
        place.pointer = format!("{}/{}", self.pointer, name.replace('~', "~0").replace('/', "~1"));
        place
    }

    fn called(&self, name: &str) -> Self {
        let mut place = self.clone();
        place.names.push(name.replace('_', " "));
        place
    }
}

/// The schemas of the question and of all that it is made of.
struct Components(Map<String, Value>);

impl Components {
    const ROOT: &str = "question";

    fn of_the_question() -> Self {
        let mut schemas = vec![(Self::ROOT.to_owned(), CostComparison::schema())];
        CostComparison::schemas(&mut schemas);
        let mut components = Map::new();
        for (name, schema) in schemas {
            if !components.contains_key(&name) {
                components.insert(name, serde_json::to_value(schema).unwrap_or_default());
            }
        }
        Self(components)
    }

    /// The object or number that `schema` stands for.
    fn resolve<'a>(&'a self, schema: &'a Value) -> &'a Value {
        if let Some(name) = schema["$ref"].as_str().and_then(|path| path.rsplit('/').next()) {
            return self.0.get(name).unwrap_or(schema);
        }
        let branches = schema["oneOf"].as_array().into_iter().flatten();
        let mut named = branches.filter(|branch| !branch["$ref"].is_null());
        named.next().map_or(schema, |branch| self.resolve(branch))
    }

    /// Collects the numbers in `value`, which is as `schema` says.
    fn walk(&self, value: &Value, schema: &Value, place: &Place, found: &mut Vec<Lever>) {
        let schema = self.resolve(schema);
        match value {
            Value::Object(members) => {
                let name = members.get("name").and_then(Value::as_str);
                let place = name.map_or_else(|| place.clone(), |name| place.called(name));
                for (member, value) in members {
                    let inner = place.member(member);
                    let inner = if value.is_array() { inner } else { inner.called(member) };
                    self.walk(value, &schema["properties"][member], &inner, found);
                }
            }
            Value::Array(entries) => {
                for (i, entry) in entries.iter().enumerate() {
                    self.walk(entry, &schema["items"], &place.member(&i.to_string()), found);
                }
            }
            Value::Number(number) => {
                let kind = schema["x-quantity"].as_str();
                let row = kind.and_then(|kind| TABLE.iter().find(|row| row.name == kind));
                if let (Some(row), Some(given)) = (row, number.as_f64()) {
                    let what = place.names.join(": ");
                    found.push(Lever { pointer: place.pointer.clone(), what, row, given });
                }
            }
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_kind_of_number_in_a_request_has_a_name_in_answers() {
        let components = Components::of_the_question();
        let empty = Amount::default();
        let mut kinds = 0;
        for schema in components.0.values() {
            let Some(kind) = schema["x-quantity"].as_str() else { continue };
            let row = TABLE.iter().find(|row| row.name == kind).expect("a row");
            assert_ne!(Amount::of(row, 1.0).expect("in range"), empty, "{kind} has no name");
            kinds += 1;
        }
        assert!(kinds > 10, "only {kinds} kinds were found");
    }
}
