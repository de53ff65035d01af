//! Headings of a table: which columns are members of the question, in which
//! unit, and which are the caller's own.

use super::Refused;
use crate::shape::{Shape, rescale_alike};
use sumpwright_engine::quantity::{Row, UnitSystem};
use sumpwright_engine::refusal::nearest;

/// What a column holds.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Column {
    /// A member of the question.
    Member(Member),
    /// Something of the caller's, passed through.
    Own,
}

/// A column that is a member of the question.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Member {
    /// Its path in the flat form.
    pub(crate) path: String,
    /// The system of units its heading names; that of the row when it names none.
    pub(crate) units: Option<UnitSystem>,
    /// What it holds.
    pub(crate) kind: Kind,
}

/// What the cells of a column are read as.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Kind {
    /// A number, and the kind of quantity it is.
    Number(Option<&'static Row>),
    /// True or false.
    Truth,
    /// Text, or one of a few words.
    Text,
}

/// A heading nearer than this to a path is taken for a misspelling.
const MISSPELT: f64 = 0.93;

impl Column {
    /// Reads a heading: a path, and a unit in brackets where it names one.
    pub(crate) fn of(heading: &str, question: &Shape) -> Result<Self, Refused> {
        let (path, unit) = split_unit(heading.trim());
        let shapes = question.all_at_path(path);
        if shapes.is_empty() {
            return own(heading, path, question);
        }
        let kind = kind_of(&shapes, path)?;
        let units = match unit {
            None => None,
            Some(unit) => Some(system_of(unit, kind, heading)?),
        };
        Ok(Self::Member(Member { path: path.to_owned(), units, kind }))
    }
}

/// A heading's path, and the unit in brackets after it. A path holds neither
/// blanks nor brackets.
fn split_unit(heading: &str) -> (&str, Option<&str>) {
    let end = heading.find([' ', '[']).unwrap_or(heading.len());
    let (path, rest) = heading.split_at(end);
    let inside = rest.trim().strip_prefix('[').and_then(|rest| rest.strip_suffix(']'));
    if inside.is_some() { (path, inside) } else { (heading, None) }
}

fn kind_of(shapes: &[&Shape], path: &str) -> Result<Kind, Refused> {
    let kinds = shapes.iter().flat_map(|shape| match shape {
        Shape::Either(several) => several.iter().collect(),
        one => vec![*one],
    });
    let mut kinds = kinds.filter_map(|shape| match shape {
        Shape::Number(row) => Some(Kind::Number(*row)),
        Shape::Truth => Some(Kind::Truth),
        Shape::Text | Shape::PropertyName | Shape::Word(_) => Some(Kind::Text),
        Shape::List(..) | Shape::Record(..) | Shape::Choice { .. } | Shape::Either(_) => None,
    });
    let Some(first) = kinds.next() else {
        return Err(Refused::heading(format!(
            "The heading {path:?} names a member that has members of its own. Head a column with \
             the path of one of them."
        )));
    };
    // Branches of a choice may give a name different kinds; what matters to a
    // cell is whether it is a number and how it is rescaled.
    let alike = kinds.all(|kind| match (first, kind) {
        (Kind::Number(Some(a)), Kind::Number(Some(b))) => rescale_alike(a, b),
        (a, b) => a == b,
    });
    if alike {
        Ok(first)
    } else {
        Err(Refused::heading(format!("The heading {path:?} stands for different kinds of number.")))
    }
}

/// The system of units that uses a unit: by its code or as people write it.
fn system_of(unit: &str, kind: Kind, heading: &str) -> Result<UnitSystem, Refused> {
    let Kind::Number(Some(row)) = kind else {
        return Err(Refused::heading(format!(
            "The heading {heading:?} names a unit, and what it heads is no measured number."
        )));
    };
    let systems = [UnitSystem::Metric, UnitSystem::Us];
    let named = systems.into_iter().find(|system| {
        let known = row.units.in_system(*system);
        // The brackets of a code such as [gal_us] may be the heading's own.
        [known.code, known.symbol, known.code.trim_matches(['[', ']'])].contains(&unit)
    });
    named.ok_or_else(|| {
        let known = systems.map(|system| row.units.in_system(system).code);
        let known = if known[0] == known[1] { known[0].to_owned() } else { known.join(" or ") };
        Refused::heading(format!(
            "The heading {heading:?} names a unit that is not known here. It can be {known}."
        ))
    })
}

/// A column of the caller's own, unless its heading looks like a member
/// misspelt.
fn own(heading: &str, path: &str, question: &Shape) -> Result<Column, Refused> {
    let (first, deeper) = path.split_once('.').map_or((path, false), |(first, _)| (first, true));
    let known = question.member_names();
    if deeper && known.contains(&first) {
        return Err(Refused::heading(format!(
            "There is no member {path:?} in the question. Correct the heading, or rename the \
             column if it is one of your own."
        )));
    }
    let near = nearest(first, known.iter().copied());
    let near = near.filter(|near| strsim::jaro_winkler(first, near) >= MISSPELT);
    match near {
        Some(near) => Err(Refused::heading(format!(
            "There is no member {heading:?} in the question. Did you mean {near:?}? Correct the \
             heading, or rename the column if it is one of your own."
        ))),
        None => Ok(Column::Own),
    }
}
