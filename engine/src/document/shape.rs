//! A schema made ready to walk beside a document.

use super::pointer::Pointer;
use super::title::in_words;
use crate::quantity::Row;
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// What may stand at a place in a document.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A number, and the kind of quantity it is; none for a bare one.
    Number(Option<&'static Row>),
    /// Text, and how many characters it may have.
    Text(Lengths),
    /// Text that is a moment.
    Moment,
    /// Text that is a day of the calendar.
    Day,
    /// Text that names a property of a fluid.
    PropertyName,
    /// One of a few words.
    Word(Vec<String>),
    /// True or false.
    Truth,
    /// A list, all entries alike, and how many it may have.
    List(Box<Shape>, Lengths),
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

/// How long something may be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lengths {
    /// The least.
    pub least: usize,
    /// The most.
    pub most: usize,
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

/// A named member that an object may have.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedMember {
    /// Its name in the document.
    pub name: String,
    /// What a shop calls it.
    pub title: String,
    /// What may stand there.
    pub shape: Shape,
    /// Whether it has to be there.
    pub is_required: bool,
    /// Whether null may stand there instead.
    pub may_be_null: bool,
}

impl NamedMember {
    /// A member that may be left out, whose title is its name in words.
    #[must_use]
    pub fn new(name: &str, shape: Shape) -> Self {
        let title = in_words(name);
        Self { name: name.to_owned(), title, shape, is_required: false, may_be_null: false }
    }
}

/// Members of an object in the order of their definition.
pub type Members = Vec<NamedMember>;

impl Shape {
    /// What a shop calls the member `name` of this object, if it is one of those that are named here.
    #[must_use]
    pub fn title(&self, name: &str) -> Option<&str> {
        match self {
            Self::Record(members, _) => {
                members.iter().find(|own| own.name == name).map(|own| own.title.as_str())
            }
            Self::Choice { branches, .. } => {
                branches.values().find_map(|branch| branch.title(name))
            }
            _ => None,
        }
    }

    /// The shape of the member called `name`, if this is an object that may
    /// have one.
    #[must_use]
    pub fn member(&self, name: &str) -> Option<&Self> {
        match self {
            Self::Record(members, others) => {
                let named = members.iter().find(|own| own.name == name).map(|own| &own.shape);
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
            Self::Record(members, _) => members.iter().map(|member| member.name.as_str()).collect(),
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
            for NamedMember { name, shape, .. } in members {
                if let Self::List(_, Lengths { most, .. }) = shape {
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
            names.extend(members.iter().map(|member| member.name.clone()));
        });
        names
    }

    /// Whether an object here carries properties.
    #[must_use]
    pub fn carries_properties(&self) -> bool {
        let Self::Record(members, _) = self else { return false };
        members.iter().any(|member| {
            matches!(&member.shape, Self::Record(_, Some(others)) if others.are_properties)
        })
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

    /// Shows this shape and every one below it.
    pub fn visit(&self, see: &mut impl FnMut(&Self)) {
        see(self);
        match self {
            Self::Record(members, others) => {
                members.iter().for_each(|member| member.shape.visit(see));
                others.iter().for_each(|others| others.shape.visit(see));
            }
            Self::List(entry, _) => entry.visit(see),
            Self::Choice { branches, .. } => branches.values().for_each(|shape| shape.visit(see)),
            Self::Either(shapes) => shapes.iter().for_each(|shape| shape.visit(see)),
            Self::Number(_)
            | Self::Text(_)
            | Self::Moment
            | Self::Day
            | Self::PropertyName
            | Self::Word(_)
            | Self::Truth => {}
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
    #[must_use]
    pub fn all_at_path(&self, path: &str) -> Vec<&Self> {
        path.split('.').fold(vec![self], |shapes, step| {
            let mut inner = Vec::new();
            shapes.into_iter().for_each(|shape| shape.step_into(step, &mut inner));
            inner
        })
    }

    fn step_into<'a>(&'a self, step: &str, found: &mut Vec<&'a Self>) {
        match self {
            Self::List(entry, lengths) => {
                if step.parse::<usize>().is_ok_and(|place| place < lengths.most) {
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

    /// The shape at a place in `document`.
    #[must_use]
    pub fn at<'a>(&'a self, document: &Value, pointer: &Pointer) -> Option<&'a Self> {
        let mut shape = self.fitting(document)?;
        let mut value = document;
        for step in pointer.steps() {
            let inner = match shape {
                Self::List(entries, _) => entries,
                shape => shape.member(&step)?,
            };
            value = match value {
                Value::Array(entries) => entries.get(step.parse::<usize>().ok()?)?,
                value => value.get(step.as_ref()).unwrap_or(&Value::Null),
            };
            shape = inner.fitting(value).unwrap_or(inner);
        }
        Some(shape)
    }

    /// The numbers of `document` that are of a known kind, in its order, each with its
    /// place and its kind.
    #[must_use]
    pub fn numbers(&self, document: &Value) -> Vec<(Pointer, &'static Row, f64)> {
        let mut found = Vec::new();
        self.note_numbers(document, &mut Pointer::root(), &mut found);
        found
    }

    fn note_numbers(
        &self,
        value: &Value,
        pointer: &mut Pointer,
        found: &mut Vec<(Pointer, &'static Row, f64)>,
    ) {
        let Some(shape) = self.fitting(value) else { return };
        match (shape, value) {
            (Self::Number(Some(row)), Value::Number(number)) => {
                let number = number.as_f64();
                found.extend(number.map(|number| (pointer.clone(), *row, number)));
            }
            (Self::List(entry, _), Value::Array(entries)) => {
                for (place, value) in entries.iter().enumerate() {
                    pointer.push_place(place);
                    entry.note_numbers(value, pointer, found);
                    pointer.pop();
                }
            }
            (shape, Value::Object(members)) => {
                for (name, value) in members {
                    let Some(member) = shape.member(name) else { continue };
                    pointer.push(name);
                    member.note_numbers(value, pointer, found);
                    pointer.pop();
                }
            }
            _ => {}
        }
    }
}
