//! A published schema made ready to walk beside a document.
//!
//! The unit border lies here: numbers are rescaled by the units that the schema
//! itself publishes, in one place, on the way in and on the way out. The flat
//! form and the words of errors are read from the same shape.

use crate::problem::Fault;
use crate::tree::join;
use serde_json::{Map, Value};
use std::collections::{BTreeMap, BTreeSet};
use sumpwright_engine::fluid::properties::NAME_PATTERN;
use sumpwright_engine::quantity::{Measure, Row, TABLE, UnitSystem};
use sumpwright_engine::text::FAULTS_LISTED;

/// The most entries that a list, or members that an object, may have which names no
/// limit of its own.
const MOST: usize = 20_000;

/// What may stand at a place in a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A number, and the kind of quantity it is; none for a bare one.
    Number(Option<&'static Row>),
    /// Text.
    Text,
    /// Text that names a property of a fluid.
    PropertyName,
    /// One of a few words.
    Word(Vec<String>),
    /// True or false.
    Truth,
    /// A list, all entries alike, and the most that it may have.
    List(Box<Shape>, usize),
    /// An object with named members; others too where there may be any.
    Record(Members, Option<Others>),
    /// One of several objects, told apart by the word in the member `tag`.
    Choice {
        /// The member that tells them apart.
        tag: String,
        /// The objects, by that word.
        branches: BTreeMap<String, Shape>,
    },
    /// One of several that are told apart by their type.
    Either(Vec<Shape>),
}

/// Members of free names that an object may have.
#[derive(Debug, Clone, PartialEq)]
pub struct Others {
    /// What each of them is.
    pub shape: Box<Shape>,
    /// How many members the object may have, the named ones among them.
    pub most: usize,
    /// Whether they are what a fluid carries, by name.
    pub are_properties: bool,
}

/// Members of an object in the order of their definition.
pub type Members = Vec<(String, Shape)>;

/// Which way numbers cross the unit border.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// From the caller's units to the engine's, checking the exact bounds.
    In,
    /// From the engine's units to the caller's.
    Out,
}

impl Shape {
    /// Makes the shape of `schema`, whose references lie among `components`.
    #[must_use]
    pub fn of(schema: &Value, components: &Map<String, Value>) -> Self {
        if let Some(name) = reference(schema) {
            return components.get(name).map_or(Self::Text, |found| Self::of(found, components));
        }
        if let Some(branches) = schema.get("oneOf").and_then(Value::as_array) {
            return Self::one_of(schema, branches, components);
        }
        match type_of(schema) {
            "number" | "integer" => Self::Number(quantity(schema)),
            "boolean" => Self::Truth,
            "array" => {
                let entry = Self::of(&schema["items"], components);
                Self::List(Box::new(entry), at_most(schema, "maxItems"))
            }
            "object" => {
                let members = schema.get("properties").and_then(Value::as_object);
                let members = members.into_iter().flatten();
                let members = members.map(|(name, s)| (name.clone(), Self::of(s, components)));
                let others = schema.get("additionalProperties").filter(|others| others.is_object());
                let others = others.map(|others| Others {
                    shape: Box::new(Self::of(others, components)),
                    most: at_most(schema, "maxProperties"),
                    are_properties: schema["propertyNames"].get("pattern").is_some(),
                });
                Self::Record(members.collect(), others)
            }
            _ => match words(schema) {
                Some(words) => Self::Word(words),
                None if schema["pattern"] == NAME_PATTERN => Self::PropertyName,
                None => Self::Text,
            },
        }
    }

    fn one_of(schema: &Value, branches: &[Value], components: &Map<String, Value>) -> Self {
        let present = branches.iter().filter(|branch| type_of(branch) != "null");
        let mut shapes: Vec<Self> = present.map(|branch| Self::of(branch, components)).collect();
        if let Some(tag) = schema["discriminator"]["propertyName"].as_str() {
            let branches = shapes.into_iter().filter_map(|shape| {
                let word = match shape.member(tag)? {
                    Self::Word(words) => words.first()?.clone(),
                    _ => return None,
                };
                Some((word, shape))
            });
            return Self::Choice { tag: tag.to_owned(), branches: branches.collect() };
        }
        if shapes.len() == 1 { shapes.remove(0) } else { Self::Either(shapes) }
    }

    /// The shape of the member called `name`, if this is an object that may
    /// have one.
    #[must_use]
    pub fn member(&self, name: &str) -> Option<&Self> {
        match self {
            Self::Record(members, others) => {
                let named = members.iter().find(|(own, _)| own == name).map(|(_, shape)| shape);
                named.or(others.as_ref().map(|others| others.shape.as_ref()))
            }
            Self::Choice { branches, .. } => {
                branches.values().find_map(|branch| branch.member(name))
            }
            Self::Either(shapes) => shapes.iter().find_map(|shape| shape.member(name)),
            _ => None,
        }
    }

    /// The names of the members that an object here may have.
    #[must_use]
    pub fn member_names(&self) -> Vec<&str> {
        match self {
            Self::Record(members, _) => members.iter().map(|(name, _)| name.as_str()).collect(),
            Self::Choice { branches, .. } => {
                branches.values().flat_map(|branch| branch.member_names()).collect()
            }
            Self::Either(shapes) => shapes.iter().flat_map(Self::member_names).collect(),
            _ => Vec::new(),
        }
    }

    /// All members that are lists, however deep, by name and with the most entries
    /// that they may have: the least where several share a name.
    #[must_use]
    pub fn lists(&self) -> BTreeMap<String, usize> {
        let mut lists = BTreeMap::new();
        self.visit(&mut |shape| {
            let Self::Record(members, _) = shape else { return };
            for (name, shape) in members {
                if let Self::List(_, most) = shape {
                    let known = lists.entry(name.clone()).or_insert(*most);
                    *known = (*known).min(*most);
                }
            }
        });
        lists
    }

    /// The names of all members that have one, however deep.
    #[must_use]
    pub fn all_names(&self) -> BTreeSet<String> {
        let mut names = BTreeSet::new();
        self.visit(&mut |shape| {
            let Self::Record(members, _) = shape else { return };
            names.extend(members.iter().map(|(name, _)| name.clone()));
        });
        names
    }

    /// Whether an object here carries properties.
    #[must_use]
    pub fn carries_properties(&self) -> bool {
        let Self::Record(members, _) = self else { return false };
        members.iter().any(
            |(_, shape)| matches!(shape, Self::Record(_, Some(others)) if others.are_properties),
        )
    }

    /// The names of all members that tell the branches of a choice apart.
    #[must_use]
    pub fn tags(&self) -> Vec<String> {
        let mut tags = Vec::new();
        self.visit(&mut |shape| {
            if let Self::Choice { tag, .. } = shape {
                tags.push(tag.clone());
            }
        });
        tags.sort_unstable();
        tags.dedup();
        tags
    }

    fn visit(&self, see: &mut impl FnMut(&Self)) {
        see(self);
        match self {
            Self::Record(members, others) => {
                members.iter().for_each(|(_, shape)| shape.visit(see));
                others.iter().for_each(|others| others.shape.visit(see));
            }
            Self::List(entry, _) => entry.visit(see),
            Self::Choice { branches, .. } => branches.values().for_each(|shape| shape.visit(see)),
            Self::Either(shapes) => shapes.iter().for_each(|shape| shape.visit(see)),
            Self::Number(_) | Self::Text | Self::PropertyName | Self::Word(_) | Self::Truth => {}
        }
    }

    /// Whether documents of this shape may have something at a dotted path.
    #[must_use]
    pub fn has_path(&self, path: &str) -> bool {
        self.at_path(path).is_some()
    }

    /// The kinds of quantity that may lie at a dotted path: several where branches
    /// of a choice share a name.
    #[must_use]
    pub fn quantities_at(&self, path: &str) -> Vec<&'static Row> {
        let shapes = self.all_at_path(path).into_iter().flat_map(|shape| match shape {
            Self::Either(several) => several.iter().collect(),
            one => vec![one],
        });
        let rows = shapes.filter_map(|shape| match shape {
            Self::Number(row) => *row,
            _ => None,
        });
        rows.collect()
    }

    /// Every shape that may stand at a dotted path.
    pub(crate) fn all_at_path(&self, path: &str) -> Vec<&Self> {
        path.split('.').fold(vec![self], |shapes, step| {
            let mut inner = Vec::new();
            shapes.into_iter().for_each(|shape| shape.step_into(step, &mut inner));
            inner
        })
    }

    fn step_into<'a>(&'a self, step: &str, found: &mut Vec<&'a Self>) {
        match self {
            Self::List(entry, most) => {
                if step.parse::<usize>().is_ok_and(|place| place < *most) {
                    found.push(entry);
                }
            }
            Self::Choice { branches, .. } => {
                branches.values().for_each(|branch| branch.step_into(step, found));
            }
            Self::Either(shapes) => shapes.iter().for_each(|shape| shape.step_into(step, found)),
            shape => found.extend(shape.member(step)),
        }
    }

    fn at_path(&self, path: &str) -> Option<&Self> {
        path.split('.').try_fold(self, |shape, step| match shape {
            Self::List(entry, _) => step.parse::<usize>().is_ok().then_some(entry.as_ref()),
            shape => shape.member(step),
        })
    }

    /// The shape that fits `value`: of a choice the branch it names, of several
    /// the one of its type.
    #[must_use]
    pub fn fitting(&self, value: &Value) -> Option<&Self> {
        match self {
            Self::Choice { tag, branches } => branches.get(value.get(tag)?.as_str()?),
            Self::Either(shapes) => shapes.iter().find(|shape| match shape {
                Self::Record(..) | Self::Choice { .. } => value.is_object(),
                Self::List(..) => value.is_array(),
                Self::Number(_) => value.is_number(),
                _ => value.is_string(),
            }),
            shape => Some(shape),
        }
    }

    /// The shape at a JSON pointer into `document`.
    #[must_use]
    pub fn at<'a>(&'a self, document: &Value, pointer: &str) -> Option<&'a Self> {
        let mut shape = self.fitting(document)?;
        let mut value = document;
        for step in pointer.split('/').skip(1) {
            let step = step.replace("~1", "/").replace("~0", "~");
            let inner = match shape {
                Self::List(entries, _) => entries,
                shape => shape.member(&step)?,
            };
            value = match value {
                Value::Array(entries) => entries.get(step.parse::<usize>().ok()?)?,
                value => value.get(&step).unwrap_or(&Value::Null),
            };
            shape = inner.fitting(value).unwrap_or(inner);
        }
        Some(shape)
    }

    /// Rescales every number of `value` across the unit border. On the way in,
    /// numbers outside the exact bounds of their kind are noted in `faults`.
    pub fn rescale(
        &self,
        value: &mut Value,
        units: UnitSystem,
        direction: Direction,
        pointer: &str,
        faults: &mut Vec<Fault>,
    ) {
        if faults.len() > FAULTS_LISTED {
            return;
        }
        let Some(shape) = self.fitting(value) else { return };
        match (shape, value) {
            (Self::Number(Some(row)), Value::Number(number)) => {
                let Some(given) = number.as_f64() else { return };
                let scaled = match direction {
                    Direction::In => row.units.to_metric(given, units),
                    Direction::Out => row.units.from_metric(given, units),
                };
                if direction == Direction::In && !row.admits(scaled) {
                    faults.push(Fault::new(pointer, out_of_range(row, given, units)));
                } else if !row.whole
                    && let Some(scaled) = serde_json::Number::from_f64(scaled)
                {
                    *number = scaled;
                }
            }
            (Self::List(entry, _), Value::Array(entries)) => {
                for (i, value) in entries.iter_mut().enumerate() {
                    let pointer = join(pointer, &i.to_string());
                    entry.rescale(value, units, direction, &pointer, faults);
                }
            }
            (shape, Value::Object(members)) => {
                for (name, value) in members {
                    let Some(member) = shape.member(name) else { continue };
                    member.rescale(value, units, direction, &join(pointer, name), faults);
                }
            }
            _ => {}
        }
    }
}

/// Whether numbers of two kinds cross the unit border by the same sum.
pub(crate) fn rescale_alike(a: &Row, b: &Row) -> bool {
    a.units.scale == b.units.scale && a.units.zero == b.units.zero
}

/// What to say of a number outside the bounds of its kind.
pub(crate) fn out_of_range(row: &Row, given: f64, units: UnitSystem) -> String {
    let given = Measure::bare(given);
    format!("{given} cannot be. It must be {}.", row.range_in_words(units))
}

/// The name of the component that a schema refers to.
pub(crate) fn reference(schema: &Value) -> Option<&str> {
    schema.get("$ref")?.as_str()?.rsplit('/').next()
}

/// The type a schema names, leaving out null.
pub(crate) fn type_of(schema: &Value) -> &str {
    match &schema["type"] {
        Value::String(name) => name,
        Value::Array(names) => {
            names.iter().filter_map(Value::as_str).find(|name| *name != "null").unwrap_or_default()
        }
        _ => "",
    }
}

fn at_most(schema: &Value, keyword: &str) -> usize {
    let most = schema[keyword].as_u64().and_then(|most| most.try_into().ok());
    most.unwrap_or(MOST)
}

fn words(schema: &Value) -> Option<Vec<String>> {
    let words = schema.get("enum")?.as_array()?;
    Some(words.iter().filter_map(Value::as_str).map(str::to_owned).collect())
}

fn quantity(schema: &Value) -> Option<&'static Row> {
    let name = schema.get("x-quantity")?.as_str()?;
    TABLE.iter().copied().find(|row| row.name == name)
}
