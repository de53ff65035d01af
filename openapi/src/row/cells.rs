//! A row of a table read straight into a question, without a document in between.
//!
//! The headings are made into a tree once; serde then reads each row along it.
//! Numbers are converted to metric on the way, by the same table of quantities
//! as the numbers of a document.

use super::member::{CellKind, Member, plain_number};
use super::words::truth;
use csv::StringRecord;
use sumpwright_engine::document::{LeafSource, LeafValue, Reader, Tree};
use sumpwright_engine::quantity::UnitSystem;

/// Adds a member to a tree at a path; each step says whether it is an entry of a list.
/// False if there is already a member at the path or above it.
pub(crate) fn insert(tree: &mut Tree, steps: &[(&str, bool)], member: usize) -> bool {
    let Some(((step, _), deeper)) = steps.split_first() else { return false };
    let inner = match tree {
        Tree::Leaf(_) | Tree::Gap => return false,
        Tree::Members(members) => match members.iter().position(|(name, _)| name == step) {
            Some(place) => &mut members[place].1,
            None => {
                members.push(((*step).to_owned(), Tree::Gap));
                let Some((_, inner)) = members.last_mut() else { return false };
                inner
            }
        },
        Tree::List(entries) => {
            let Ok(place) = step.parse::<usize>() else { return false };
            if entries.len() <= place {
                entries.resize(place + 1, Tree::Gap);
            }
            &mut entries[place]
        }
    };
    if *inner == Tree::Gap {
        *inner = match deeper.first() {
            None => Tree::Leaf(member),
            Some((_, true)) => Tree::List(Vec::new()),
            Some((_, false)) => Tree::Members(Vec::new()),
        };
        return deeper.is_empty() || insert(inner, deeper, member);
    }
    insert(inner, deeper, member)
}

/// The source of a member's text.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Source {
    Cell(usize),
    Everywhere(String),
}

impl Source {
    /// The text in a row; empty if the row is too short.
    pub(crate) fn in_row<'t>(&'t self, row: &'t csv::StringRecord) -> &'t str {
        match self {
            Self::Cell(i) => row.get(*i).unwrap_or_default(),
            Self::Everywhere(text) => text,
        }
    }
}

/// The cells of one row, as texts of the members.
pub(crate) struct Cells<'a> {
    /// The members.
    pub(crate) members: &'a [Member],
    /// The source of each member's text; a blank text means "not given".
    pub(crate) sources: &'a [Source],
    /// The row.
    pub(crate) row: &'a StringRecord,
    /// The system of units of the row.
    pub(crate) units: UnitSystem,
    /// Whether numbers have a decimal comma.
    pub(crate) decimal_comma: bool,
}

impl<'a> Cells<'a> {
    /// Reads the whole row along a tree.
    #[must_use]
    pub(crate) fn along(&'a self, tree: &'a Tree) -> Reader<'a> {
        Reader::along(tree, self)
    }

    /// The text of a member.
    pub(crate) fn text_of(&self, member: usize) -> &'a str {
        self.sources[member].in_row(self.row)
    }

    /// The number in a cell, in metric units.
    fn number(&self, member: usize) -> Result<f64, &'static str> {
        let Member { kind, units, .. } = &self.members[member];
        let text = plain_number(self.text_of(member), self.decimal_comma);
        let given: f64 = text.parse().map_err(|_| "not a number")?;
        Ok(match kind {
            CellKind::Number(Some(row)) => row.units.to_metric(given, units.unwrap_or(self.units)),
            _ => given,
        })
    }
}

impl LeafSource for Cells<'_> {
    fn is_given(&self, member: usize) -> bool {
        !self.text_of(member).trim_ascii().is_empty()
    }

    fn value(&self, member: usize) -> Result<LeafValue<'_>, &'static str> {
        let text = self.text_of(member);
        Ok(match self.members[member].kind {
            CellKind::Number(None) => match text.trim().parse::<u64>() {
                Ok(whole) => LeafValue::Whole(whole),
                Err(_) => LeafValue::Number(self.number(member)?),
            },
            CellKind::Number(_) => LeafValue::Number(self.number(member)?),
            CellKind::Truth => LeafValue::Truth(truth(text).ok_or("neither true nor false")?),
            // Read the thorough way, in the spelling of a document.
            CellKind::Day => return Err("a day"),
            CellKind::Text => LeafValue::Text(self.members[member].word(text)),
        })
    }
}
