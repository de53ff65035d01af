//! The places of a question that a column can hold, in the order of its definition, each with
//! its titles.

use super::spelling::{deeper, is_value, meant};
use serde_json::Value;
use sumpwright_engine::document::{NamedMember, Shape};

/// Documents beside which a shape is walked, one a row; none where a row has nothing there.
pub(super) type Rows<'d> = Vec<Option<&'d Value>>;

/// What stands between the title of a list and the number of its entry, counted from 1.
const NUMBERED: &str = " #";

/// A place that a column can hold.
#[derive(Clone)]
pub(super) struct Place<'s, 'd> {
    /// Its path.
    pub(super) path: String,
    /// The titles on the way to it, outermost first; that of a list has its entry's number.
    pub(super) titles: Vec<String>,
    /// What stands there.
    pub(super) shape: &'s Shape,
    /// Whether no question goes without it.
    pub(super) is_required: bool,
    /// What stands there in each document.
    pub(super) values: Rows<'d>,
}

/// The places in documents of `shape`: as many entries of a list as the longest of `rows` has, or
/// one; of the branches of a choice first the one that they take.
pub(super) fn of<'s, 'd>(shape: &'s Shape, rows: Rows<'d>) -> Vec<Place<'s, 'd>> {
    let mut places = Vec::new();
    let root =
        Place { path: String::new(), titles: Vec::new(), shape, is_required: true, values: rows };
    walk(&root, &mut places);
    places
}

fn walk<'s, 'd>(at: &Place<'s, 'd>, found: &mut Vec<Place<'s, 'd>>) {
    match at.shape {
        Shape::Record(members, others) => {
            for member in members {
                walk(&at.member(member), found);
            }
            let Some(others) = others else { return };
            let mut names: Vec<&'d String> = Vec::new();
            for name in at.values.iter().flatten().filter_map(|value| value.as_object()).flatten() {
                let is_own = members.iter().any(|member| member.name == *name.0);
                if !is_own && !names.contains(&name.0) {
                    names.push(name.0);
                }
            }
            for name in names {
                walk(&at.below(name, name.clone(), &others.shape, false), found);
            }
        }
        Shape::List(entry, lengths) => {
            let entries = at.values.iter().flatten().filter_map(|value| value.as_array());
            let entries = entries.map(Vec::len).max().unwrap_or(0);
            for place in 0..entries.max(1) {
                let is_required = place < lengths.least;
                walk(&at.entry(place, entry, is_required), found);
            }
        }
        Shape::Choice { tag, branches } => {
            let of_rows = at.values.iter().flatten();
            let taken: Vec<&str> = of_rows.filter_map(|value| value.get(tag)?.as_str()).collect();
            let mut words: Vec<&String> = branches.keys().collect();
            words.sort_by_key(|word| !taken.contains(&word.as_str()));
            for word in words {
                let before = found.len();
                walk(&Place { shape: &branches[word], ..at.clone() }, found);
                // In a branch the tag alone is needed in every question.
                let tag = deeper(&at.path, tag);
                let branch = found.split_off(before);
                for place in branch {
                    let is_required = at.is_required && place.path == tag;
                    if found.iter().all(|known| known.path != place.path) {
                        found.push(Place { is_required, ..place });
                    }
                }
            }
        }
        Shape::Either(shapes) => {
            let value = at.values.iter().flatten().next();
            let fitting = value.and_then(|value| at.shape.fitting(value));
            if let Some(shape) = fitting.or(shapes.first()) {
                walk(&Place { shape, ..at.clone() }, found);
            }
        }
        _ => found.push(at.clone()),
    }
}

impl<'s, 'd> Place<'s, 'd> {
    fn member(&self, member: &'s NamedMember) -> Self {
        self.below(&member.name, member.title.clone(), &member.shape, member.is_required)
    }

    /// An entry of the list here, counted from 0. To people it is counted from 1.
    fn entry(&self, place: usize, shape: &'s Shape, is_required: bool) -> Self {
        let list = self.titles.last().map_or("", String::as_str);
        let mut entry = self.below(
            &place.to_string(),
            format!("{list}{NUMBERED}{}", place + 1),
            shape,
            is_required,
        );
        entry.titles.remove(self.titles.len().saturating_sub(1));
        entry
    }

    fn below(&self, step: &str, title: String, shape: &'s Shape, is_required: bool) -> Self {
        let inside = |value: &'d Value| match value {
            Value::Array(entries) => entries.get(step.parse::<usize>().ok()?),
            value => value.get(step),
        };
        let values = self.values.iter().map(|value| value.and_then(inside));
        let values = values.map(|value| value.filter(|value| !value.is_null())).collect();
        let mut titles = self.titles.clone();
        titles.push(title);
        Self {
            path: deeper(&self.path, step),
            titles,
            shape,
            is_required: self.is_required && is_required,
            values,
        }
    }

    /// Whether it is in an entry of a list.
    pub(super) fn is_in_list(&self) -> bool {
        self.titles.iter().any(|title| title.contains(NUMBERED))
    }

    /// Its heading in shop words: its title, after as many of the titles around it as it
    /// takes to tell it from others; its path where no titles do.
    pub(super) fn heading(&self, question: &Shape) -> String {
        self.heading_after(0, question)
    }

    /// The same after so many of the titles around it at least, where there are as many.
    pub(super) fn heading_after(&self, least: usize, question: &Shape) -> String {
        // Without the number of its entry a place in a list is none.
        let of_list = self.titles.iter().position(|title| title.contains(NUMBERED));
        let last = self.titles.len().saturating_sub(1);
        let first = of_list.unwrap_or(last.saturating_sub(least));
        let headings = (0..=first).rev().map(|from| self.titles[from..].join(": "));
        let mut told = headings.filter(|heading| meant(heading, question) == [self.path.as_str()]);
        told.next().unwrap_or_else(|| self.path.clone())
    }
}

/// The place at `path`, if it is one that a column can hold.
pub(super) fn at<'s>(path: &str, question: &'s Shape) -> Option<Place<'s, 'static>> {
    let mut place = Place {
        path: String::new(),
        titles: Vec::new(),
        shape: question,
        is_required: true,
        values: Vec::new(),
    };
    for step in path.split('.') {
        place = step_into(&place, step)?;
    }
    is_value(place.shape).then_some(place)
}

fn step_into<'s>(at: &Place<'s, 'static>, step: &str) -> Option<Place<'s, 'static>> {
    match at.shape {
        Shape::Record(members, others) => {
            let own = members.iter().find(|member| member.name == step);
            let own = own.map(|member| at.member(member));
            own.or_else(|| {
                let others = others.as_ref()?;
                Some(at.below(step, step.to_owned(), &others.shape, false))
            })
        }
        Shape::List(entry, lengths) => {
            let place = step.parse::<usize>().ok().filter(|place| *place < lengths.most)?;
            Some(at.entry(place, entry, false))
        }
        Shape::Choice { branches, .. } => branches
            .values()
            .find_map(|branch| step_into(&Place { shape: branch, ..at.clone() }, step)),
        Shape::Either(shapes) => {
            shapes.iter().find_map(|shape| step_into(&Place { shape, ..at.clone() }, step))
        }
        _ => None,
    }
}
