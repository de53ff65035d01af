//! Headings of a table: columns that are members of the question, with their
//! units, and columns of the caller's own.

use super::dialect::Dialect;
use super::refused::Refused;
use super::{spelling, unit_words};
use crate::request::problem::FaultCode;
use crate::row::member::{CellKind, Member};
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

/// Whether a column with this heading holds numbers of a question.
pub(crate) fn heads_numbers(heading: &str, question: &Shape) -> bool {
    let column = Column::of(heading, question);
    matches!(column, Ok(Column::Member(Member { kind: CellKind::Number(_), .. })))
}

/// Above this similarity to a path, a heading is taken for a misspelling.
const MISSPELT: f64 = 0.93;

impl Column {
    /// Reads a heading: a path, spelt exactly or as a person may write it, and optionally
    /// a unit in brackets.
    pub(crate) fn of(heading: &str, question: &Shape) -> Result<Self, Refused> {
        let heading = heading.trim();
        let (name, unit) = split_unit(heading);
        let Some(path) = path_of(name, question)? else { return own(heading, name, question) };
        let kind = kind_of(&question.all_at_path(&path), &path)?;
        let units = match unit {
            None => None,
            Some(unit) => Some(system_of(unit, kind, heading)?),
        };
        Ok(Self::Member(Member { path, units, kind }))
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

/// The path of the member that a heading names by its path or by its title, if it
/// names one.
fn path_of(name: &str, question: &Shape) -> Result<Option<String>, Refused> {
    if !question.all_at_path(name).is_empty() {
        return Ok(Some(name.to_owned()));
    }
    let mut paths = spelling::paths(name, question);
    if paths.is_empty() {
        paths = spelling::entitled(name, question);
    }
    match &mut paths[..] {
        [] => Ok(None),
        [path] => Ok(Some(std::mem::take(path))),
        several => {
            let detail = format!(
                "The heading {name:?} can mean {}. Write the path of the member you mean.",
                several.join(" or as ")
            );
            Err(Refused::Heading(FaultCode::Ambiguous, detail))
        }
    }
}

fn kind_of(shapes: &[&Shape], path: &str) -> Result<CellKind, Refused> {
    let kinds = shapes.iter().flat_map(|shape| match shape {
        Shape::Either(several) => several.iter().collect(),
        one => vec![*one],
    });
    let mut kinds = kinds.filter_map(|shape| match shape {
        Shape::Number(row) => Some(CellKind::Number(*row)),
        Shape::Truth => Some(CellKind::Truth),
        Shape::Text(_) | Shape::PropertyName | Shape::Word(_) => Some(CellKind::Text),
        Shape::List(..) | Shape::Record(..) | Shape::Choice { .. } | Shape::Either(_) => None,
    });
    let Some(first) = kinds.next() else {
        return Err(Refused::heading(format!(
            "The heading {path:?} names a member that contains other members. Use the path of one \
             of them as the heading, or rename the column if it is one of your own."
        )));
    };
    // A name may have different kinds in the branches of a choice; a cell needs to
    // know only whether it is a number and how it is rescaled.
    let alike = kinds.all(|kind| match (first, kind) {
        (CellKind::Number(Some(a)), CellKind::Number(Some(b))) => rescale_alike(a, b),
        (a, b) => a == b,
    });
    if alike {
        Ok(first)
    } else {
        Err(Refused::heading(format!("The heading {path:?} can be different kinds of number.")))
    }
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
        let known = systems.map(|system| row.units.in_system(system).code);
        let known = if known[0] == known[1] { known[0].to_owned() } else { known.join(" or ") };
        Refused::heading(format!(
            "The unit in the heading {heading:?} does not fit this member. Use {known}."
        ))
    })
}

/// A column of the caller's own, unless its heading looks like a misspelt
/// member.
fn own(heading: &str, name: &str, question: &Shape) -> Result<Column, Refused> {
    let (first, deeper) = name.split_once('.').map_or((name, false), |(first, _)| (first, true));
    let known = question.member_names();
    if deeper && known.iter().any(|known| known.eq_ignore_ascii_case(first)) {
        return Err(Refused::heading(format!(
            "There is no member {name:?} in the question. Correct the heading, or rename the \
             column if it is one of your own."
        )));
    }
    let leaves = spelling::leaves(question);
    let written = spelling::bare(name);
    let known = known.into_iter().chain(leaves.iter().map(String::as_str));
    let likeness = |known: &str| strsim::jaro_winkler(&written, &spelling::bare(known));
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

/// The headings of a table, from its first row.
pub(super) fn read_headings(headings: &[u8], dialect: Dialect) -> Result<Vec<Vec<u8>>, Refused> {
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
