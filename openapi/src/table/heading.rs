//! Headings of a table: columns that are members of the question, with their
//! units, and columns of the caller's own.

use super::dialect::{self, Dialect};
use super::places::{self, Place};
use super::refused::Refused;
use super::{spelling, unit_words};
use crate::request::envelope::{REFERENCE, UNITS};
use crate::row::member::{CellKind, Member};
use crate::row::words::bare;
use sumpwright_engine::document::{Shape, rescale_alike};
use sumpwright_engine::quantity::UnitSystem;
use sumpwright_engine::text::was_meant;

/// The meaning of a column.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Column {
    /// A member of the question.
    Member(Member),
    /// A column of the caller's own, returned unchanged.
    Own,
}

/// Above this similarity to a path, a heading is taken for a misspelling.
const MISSPELT: f64 = 0.93;
/// So many of the members that a heading may mean are named.
const NAMED_MOST: usize = 6;

impl Column {
    /// Reads a heading: a path, spelt exactly or as a person may write it, or titles; then
    /// optionally a unit in brackets or after a comma.
    pub(crate) fn of(heading: &str, question: &Shape) -> Result<Self, Refused> {
        let heading = heading.trim();
        let (mut name, mut unit) = split_unit(heading);
        let mut meant = spelling::meant(name, question);
        if meant.is_empty()
            && unit.is_none()
            && let Some((before, after)) = heading.rsplit_once(',')
        {
            let before_it = spelling::meant(before.trim_end(), question);
            if !before_it.is_empty() || unit_words::is_known(after) {
                (name, unit, meant) = (before.trim_end(), Some(after), before_it);
            }
        }
        let path = match &mut meant[..] {
            [] => return own(heading, name, question),
            [path] => std::mem::take(path),
            several => {
                let detail = format!(
                    "The heading {name:?} can mean {}. Write the one you mean.",
                    named(several.iter(), question)
                );
                return Err(Refused::ambiguous(detail));
            }
        };
        let mut member = member_at(path, name, question)?;
        if let Some(unit) = unit {
            member.units = Some(system_of(unit, member.kind, heading)?);
        }
        Ok(Self::Member(member))
    }
}

/// The name in a heading, and the unit in brackets or parentheses after it.
fn split_unit(heading: &str) -> (&str, Option<&str>) {
    let parted = |open: char, close: char| {
        let (name, rest) = heading.split_at(heading.find(open)?);
        Some((name.trim_end(), rest.strip_prefix(open)?.strip_suffix(close)?))
    };
    let found = parted('[', ']').or_else(|| parted('(', ')'));
    found.map_or((heading, None), |(name, unit)| (name, Some(unit)))
}

/// Paths as headings to write: the title that tells each from the others, and the path.
fn named<'p>(paths: impl ExactSizeIterator<Item = &'p String>, question: &Shape) -> String {
    let left = paths.len().saturating_sub(NAMED_MOST);
    let one = |path: &String| match places::at(path, question) {
        Some(place) => told(&place, question),
        None => path.clone(),
    };
    let mut all: Vec<String> = paths.take(NAMED_MOST).map(one).collect();
    if left > 0 {
        all.push(format!("one of {left} more"));
    }
    match all.split_last() {
        Some((last, others)) if !others.is_empty() => format!("{} or {last}", others.join(", ")),
        _ => all.concat(),
    }
}

fn told(place: &Place<'_, '_>, question: &Shape) -> String {
    let heading = place.heading(question);
    if heading == place.path { heading } else { format!("{heading:?} ({})", place.path) }
}

/// The first headings that a table for a question may have.
pub(super) fn first_of(question: &Shape) -> String {
    let places = places::of(question, Vec::new());
    let own = |place: &&Place<'_, '_>| ![UNITS, REFERENCE].contains(&place.path.as_str());
    let required = places.iter().filter(own).filter(|place| place.is_required);
    let first = required.chain(places.iter().filter(own)).take(2);
    let paths: Vec<String> = first.map(|place| place.path.clone()).collect();
    named(paths.iter(), question)
}

/// The member at a path, which has to hold a value itself.
fn member_at(path: String, name: &str, question: &Shape) -> Result<Member, Refused> {
    let shapes = question.all_at_path(&path);
    let shapes = shapes.into_iter().flat_map(|shape| match shape {
        Shape::Either(several) => several.iter().collect(),
        one => vec![one],
    });
    let shapes: Vec<&Shape> = shapes.filter(|shape| spelling::is_value(shape)).collect();
    let kinds = shapes.iter().map(|shape| match shape {
        Shape::Number(row) => CellKind::Number(*row),
        Shape::Truth => CellKind::Truth,
        Shape::Day => CellKind::Day,
        _ => CellKind::Text,
    });
    let Some(first) = kinds.clone().next() else {
        let below = places::of(question, Vec::new());
        let below = below.into_iter().map(|place| place.path);
        let below: Vec<String> = below.filter(|inner| is_below(inner, &path)).collect();
        return Err(Refused::heading(format!(
            "The heading {name:?} names a member that contains other members. Head the column \
             with the one you mean: {}. Or rename the column if it is one of your own.",
            named(below.iter(), question)
        )));
    };
    // A name may have different kinds in the branches of a choice; a cell needs to
    // know only whether it is a number and how it is rescaled.
    let mut others = kinds.skip(1);
    let alike = others.all(|kind| match (first, kind) {
        (CellKind::Number(Some(a)), CellKind::Number(Some(b))) => rescale_alike(a, b),
        (a, b) => a == b,
    });
    if !alike {
        let detail = format!("The heading {path:?} can be different kinds of number.");
        return Err(Refused::heading(detail));
    }
    let words = shapes.into_iter().filter_map(|shape| match shape {
        Shape::Word(words) => Some(words.iter().cloned()),
        _ => None,
    });
    let words = words.flatten().collect();
    Ok(Member { path, units: None, kind: first, words })
}

fn is_below(inner: &str, path: &str) -> bool {
    inner.strip_prefix(path).is_some_and(|rest| rest.starts_with('.'))
}

/// The system of units that uses a unit, given by its code or in words.
fn system_of(unit: &str, kind: CellKind, heading: &str) -> Result<UnitSystem, Refused> {
    let CellKind::Number(Some(row)) = kind else {
        return Err(Refused::heading(format!(
            "The heading {heading:?} has a unit, but its member has none. Leave out the unit."
        )));
    };
    let systems = [UnitSystem::Metric, UnitSystem::Us];
    let mut systems_of_unit = systems.into_iter();
    let named = systems_of_unit.find(|system| unit_words::is(row.units.in_system(*system), unit));
    named.ok_or_else(|| {
        let known = systems.map(|system| row.units.in_system(system).symbol);
        let use_it = match known {
            ["", _] => "Leave it out: this is a bare number.".to_owned(),
            [metric, us] if metric == us => format!("Use {metric}."),
            known => format!("Use {}.", known.join(" or ")),
        };
        Refused::heading(format!(
            "The unit in the heading {heading:?} does not fit this member. {use_it}"
        ))
    })
}

/// A column of the caller's own, unless its heading looks like a misspelt
/// member or like the end of a path.
fn own(heading: &str, name: &str, question: &Shape) -> Result<Column, Refused> {
    let (first, deeper) = name.split_once('.').map_or((name, false), |(first, _)| (first, true));
    if let Some(most) = beyond_a_list(name, question) {
        return Err(Refused::too_many(format!(
            "The heading {name:?} is beyond the end of its list: the maximum is {most} entries, \
             which are numbered from 0."
        )));
    }
    let known = question.member_names();
    if deeper && known.iter().any(|known| known.eq_ignore_ascii_case(first)) {
        return Err(Refused::heading(format!(
            "There is no member {name:?} in the question. Correct the heading, or rename the \
             column if it is one of your own."
        )));
    }
    let leaves = places::of(question, Vec::new());
    let leaves = leaves.into_iter().filter(|leaf| !leaf.is_in_list()).map(|leaf| leaf.path);
    let leaves: Vec<String> = leaves.collect();
    let written = bare(name);
    let ends = |path: &&String| path.rsplit('.').next().is_some_and(|end| bare(end) == written);
    let ending: Vec<String> = leaves.iter().filter(ends).cloned().collect();
    if !ending.is_empty() {
        return Err(Refused::heading(format!(
            "The heading {heading:?} is the end of a path. Write the whole: {}. Or rename the \
             column if it is one of your own.",
            named(ending.iter(), question)
        )));
    }
    let known = known.into_iter().chain(leaves.iter().map(String::as_str));
    let likeness = |known: &str| strsim::jaro_winkler(&written, &bare(known));
    let near = known.map(|known| (likeness(known), known)).filter(|(like, _)| *like >= MISSPELT);
    match near.max_by(|a, b| a.0.total_cmp(&b.0)) {
        Some((_, near)) => Err(Refused::heading(format!(
            "There is no member {heading:?} in the question. {} Correct the heading, or rename the \
             column if it is one of your own.",
            was_meant(near)
        ))),
        None => Ok(Column::Own),
    }
}

/// The most entries of a list, if a path numbers one beyond them.
fn beyond_a_list(path: &str, question: &Shape) -> Option<usize> {
    let mut shape = question;
    for step in path.split('.') {
        shape = match shape {
            Shape::List(entry, lengths) => {
                if step.parse::<usize>().ok()? >= lengths.most {
                    return Some(lengths.most);
                }
                entry
            }
            shape => shape.member(step)?,
        };
    }
    None
}

/// The headings of a table, from the row that has them.
pub(super) fn read_headings(headings: &[u8], dialect: Dialect) -> Result<Vec<Vec<u8>>, Refused> {
    let headings = dialect::row_of_headings(headings);
    let mut first = csv::ByteRecord::new();
    let read = dialect.reader(headings).read_byte_record(&mut first).unwrap_or(false);
    if !read || first.iter().all(|heading| heading.trim_ascii().is_empty()) {
        return Err(Refused::heading(
            "The table has no headings. Its first row names the members of the question."
                .to_owned(),
        ));
    }
    Ok(first.iter().map(<[u8]>::to_vec).collect())
}
