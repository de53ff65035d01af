//! The columns of the answer and their headings.

use super::refused::Refused;
use super::state::Table;
use crate::flat;
use crate::request::envelope::{STATEMENT, units_named};
use crate::row::cells::Source;
use crate::row::leaves::{Columns, Node};
use crate::service::Service;
use std::borrow::Cow;
use sumpwright_engine::document::Shape;

/// Heading of the column that says why a row has no answer.
pub const PROBLEM_COLUMN: &str = "problem";

pub(super) const ANSWER: &str = "answer";
pub(super) const ANSWER_PREFIX: &str = "answer.";

impl Table {
    /// Sends the answer's values to the columns at `paths`.
    pub(super) fn set_answers(&mut self, paths: Vec<String>) -> Result<(), Refused> {
        let record = &self.service.record;
        if let Some(unknown) = paths.iter().find(|path| !record.has_path(path)) {
            return Err(Refused::heading(format!("The answer has no member {unknown:?}.")));
        }
        let mut root = Node::default();
        for (column, path) in paths.iter().enumerate() {
            root.insert(path, column);
        }
        if !self.answers.columns.chosen {
            root.pass_over_the_others(&record.member_names());
            if let (Some(steps), Some(answer)) = (steps_of(record), root.member_mut(ANSWER)) {
                answer.pass_over(steps);
            }
        }
        let of_record = paths.iter().any(|path| !path.starts_with(ANSWER_PREFIX));
        let node = match root.member(ANSWER) {
            Some(answer) if !of_record => answer.clone(),
            _ => root,
        };
        let is_text = |shape: &&Shape| {
            let mut is_text = false;
            shape.visit(&mut |shape| is_text |= matches!(shape, Shape::Text(_)));
            is_text
        };
        let of_words = paths.iter().any(|path| record.all_at_path(path).iter().any(is_text));
        self.answers.paths = paths;
        self.answers.columns = Columns { node, of_record, of_words, ..self.answers.columns };
        Ok(())
    }

    /// The first row of the answer: the caller's headings, then the answer's.
    #[must_use]
    pub fn heading(&self) -> Vec<u8> {
        let mut writer = self.writer(Vec::new());
        let own = self.headings.iter().map(|heading| self.harmless(heading));
        let answers = self.answers.paths.iter();
        let answers = answers.map(|path| Cow::Owned(self.headed(path).into_bytes()));
        let problem = std::iter::once(Cow::Borrowed(PROBLEM_COLUMN.as_bytes()));
        // A writer into memory does not fail.
        let _ = writer.write_record(own.chain(answers).chain(problem));
        writer.into_inner().unwrap_or_default()
    }

    /// A path of the answer as a heading, with its unit if that is the same in
    /// every row.
    fn headed(&self, path: &str) -> String {
        match &self.units {
            Source::Everywhere(word) => headed(path, word, &self.service),
            Source::Cell(_) => path.to_owned(),
        }
    }
}

/// A path of an answer as a heading, with its unit in a system of units by its word.
#[must_use]
pub fn headed(path: &str, units: &str, service: &Service) -> String {
    let rows = service.record.quantities_at(path);
    let (Some(units), Some(row)) = (units_named(units), rows.first()) else {
        return path.to_owned();
    };
    let code = row.units.in_system(units).code;
    let differs = rows.iter().any(|row| row.units.in_system(units).code != code);
    match code {
        code if differs || code == "1" => path.to_owned(),
        code if code.starts_with('[') && code.ends_with(']') => format!("{path} {code}"),
        code => format!("{path} [{code}]"),
    }
}

/// Adds the columns of `later` that are missing, each after its predecessor.
pub fn merge(columns: &mut Vec<String>, later: impl IntoIterator<Item = String>) {
    let mut place = 0;
    for path in later {
        if let Some(known) = columns.iter().position(|known| *known == path) {
            place = known + 1;
        } else {
            columns.insert(place, path);
            place += 1;
        }
    }
}

/// The member of an answer that tells what to do step by step: for a person, not for columns.
fn steps_of(record: &Shape) -> Option<&'static str> {
    let answer = record.member(ANSWER)?;
    ["sheet", "steps"].into_iter().find(|name| matches!(answer.member(name), Some(Shape::List(..))))
}

/// The columns of a record: its statement, and the leaves of its answer without the steps.
pub(super) fn paths_of(record: &serde_json::Value, service: &Service) -> Vec<String> {
    let steps = steps_of(&service.record).map(|name| format!("{ANSWER_PREFIX}{name}."));
    let leaves = flat::flatten(record).into_iter().map(|(path, _)| path);
    leaves
        .filter(|path| path == STATEMENT || path.starts_with(ANSWER_PREFIX))
        .filter(|path| steps.as_ref().is_none_or(|steps| !path.starts_with(steps)))
        .collect()
}
