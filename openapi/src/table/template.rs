//! The columns of a table to fill in, in shop words, with the example of the calculation as
//! its first rows.
//!
//! A heading is the title of the member, after the titles of the members around it where it takes
//! those to tell it from another: `In the sump now`, `Stocks #1: Strength`. A table with these headings, with
//! or without a unit in brackets, and the example's values below them is answered as the example is.

use super::heading::Column;
use super::places::{self, Place, Rows};
use crate::request::envelope::{UNCERTAINTY, UNITS};
use crate::service::Service;
use serde_json::Value;
use sumpwright_engine::document::Shape;
use sumpwright_engine::fluid::properties::NAME_MOST;
use sumpwright_engine::quantity::{Row, UnitSystem, Units};

/// The columns of a table to fill in.
#[derive(Debug, Clone, PartialEq)]
pub struct Template {
    /// The columns, in the order of the question.
    pub columns: Vec<TemplateColumn>,
    /// What the query gives besides, where the table is the question's one list.
    pub around: Vec<TemplateColumn>,
    /// Number of rows that the example takes.
    pub rows: usize,
}

/// A column of a table to fill in.
#[derive(Debug, Clone, PartialEq)]
pub struct TemplateColumn {
    /// The path of its member.
    pub path: String,
    /// Its heading, without a unit.
    pub title: String,
    /// Its values.
    pub kind: ColumnKind,
    /// Whether no row goes without it.
    pub is_required: bool,
    /// The value in each row of the example.
    pub examples: Vec<Option<Value>>,
}

/// The values of a column.
#[derive(Debug, Clone, PartialEq)]
pub enum ColumnKind {
    /// A number of a kind, whose bounds and units the kind has.
    Number(Option<&'static Row>),
    /// One of a few words.
    Word(Vec<String>),
    /// Text of at most so many characters.
    Text(usize),
    /// A date, with a time of day or without.
    Moment,
    /// Yes or no.
    Truth,
}

impl Template {
    /// The columns for a calculation, with its example in `units`.
    #[must_use]
    pub fn of(service: &Service, units: UnitSystem) -> Self {
        let question = &service.question;
        let mut example: Value = serde_json::from_str(service.example).unwrap_or_default();
        if units != UnitSystem::Metric {
            question.from_metric(&mut example, units);
            example[UNITS] = serde_json::to_value(units).unwrap_or_default();
        }
        let list = service.list().and_then(|list| match question.member(list) {
            Some(Shape::List(entry, _)) => Some((list, entry)),
            _ => None,
        });
        let around = columns(question, vec![Some(&example)]);
        let Some((list, entry)) = list else {
            return Self { columns: around, around: Vec::new(), rows: 1 };
        };
        let entries = example[list].as_array().map(Vec::as_slice).unwrap_or_default();
        let outside = |column: &TemplateColumn| !column.path.starts_with(&format!("{list}."));
        Self {
            columns: columns(entry, entries.iter().map(Some).collect()),
            around: around.into_iter().filter(outside).collect(),
            rows: entries.len(),
        }
    }
}

impl TemplateColumn {
    /// Its units, if its numbers have one.
    #[must_use]
    pub fn units(&self) -> Option<Units> {
        match self.kind {
            ColumnKind::Number(Some(row)) if !row.units.metric.symbol.is_empty() => Some(row.units),
            _ => None,
        }
    }

    /// Its heading with its unit in a system, for numbers typed in that system.
    #[must_use]
    pub fn heading(&self, units: UnitSystem) -> String {
        match self.units() {
            Some(own) => format!("{} [{}]", self.title, own.in_system(units).symbol),
            None => self.title.clone(),
        }
    }
}

fn columns(question: &Shape, rows: Rows<'_>) -> Vec<TemplateColumn> {
    let mut places = places::of(question, rows);
    places.retain(|place| !is_about_uncertainty(place));
    // Beside `Stocks #1: Strength` the strength of a batch says whose it is, too.
    let of_others = |place: &Place<'_, '_>| {
        let others = places.iter().filter(|other| other.path != place.path);
        others.filter(|other| other.titles.last() == place.titles.last()).count()
    };
    let least: Vec<usize> = places.iter().map(|place| of_others(place).min(1)).collect();
    places.iter().zip(least).map(|(place, least)| column(place, least, question)).collect()
}

fn is_about_uncertainty(place: &Place<'_, '_>) -> bool {
    let rest = place.path.strip_prefix(UNCERTAINTY);
    rest.is_some_and(|rest| rest.starts_with('.'))
}

fn column(place: &Place<'_, '_>, least: usize, question: &Shape) -> TemplateColumn {
    TemplateColumn {
        path: place.path.clone(),
        title: place.heading_after(least, question),
        kind: kind_of(place, question),
        is_required: place.is_required,
        examples: place.values.iter().map(|value| value.cloned()).collect(),
    }
}

fn kind_of(place: &Place<'_, '_>, question: &Shape) -> ColumnKind {
    match (Column::of(&place.path, question), place.shape) {
        // Each branch of a choice has its own word: the member has all of them.
        (Ok(Column::Member(member)), _) if !member.words.is_empty() => {
            ColumnKind::Word(member.words)
        }
        (_, Shape::Number(row)) => ColumnKind::Number(*row),
        (_, Shape::Truth) => ColumnKind::Truth,
        (_, Shape::Moment | Shape::Day) => ColumnKind::Moment,
        (_, Shape::Text(lengths)) => ColumnKind::Text(lengths.most),
        _ => ColumnKind::Text(NAME_MOST),
    }
}
