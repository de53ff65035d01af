//! Reads the headings of a table and settles the columns of its answer.

use super::columns::PROBLEM_COLUMN;
use super::dialect::Dialect;
use super::heading::{Column, first_of, read_headings};
use super::options::TableOptions;
use super::refused::{Refused, not_utf_8};
use super::state::{Answers, Table};
use super::unheaded;
use crate::request::envelope::{STATEMENT, UNITS};
use crate::request::problem::{Problem, RequestFault};
use crate::row::cells::{Source, insert};
use crate::row::leaves::Columns;
use crate::row::member::{CellKind, Member};
use crate::service::Service;
use std::sync::Arc;
use sumpwright_engine::document::Shape;
use sumpwright_engine::document::Tree;
use sumpwright_engine::quantity::UnitSystem;

impl Table {
    /// Reads the first row of a table, and the rows of `sample` as an example of
    /// the rest.
    pub fn open(
        service: Arc<Service>,
        headings: &[u8],
        sample: &[u8],
        options: &TableOptions,
    ) -> Result<Self, Problem> {
        let dialect = Dialect::of(headings, options.latin)?;
        let headings = read_headings(headings, dialect)?;
        let mut table = Self {
            service,
            dialect,
            members: Vec::new(),
            sources: Vec::new(),
            tree: Tree::Members(Vec::new()),
            units: Source::Everywhere(String::new()),
            typed_in: None,
            answers: Answers {
                paths: Vec::new(),
                columns: Columns { chosen: options.columns.is_some(), ..Columns::default() },
            },
            headings,
        };
        table.read_columns(options)?;
        let is_cell = |source: &Source| matches!(source, Source::Cell(_));
        if !table.sources.iter().any(is_cell) {
            return Err(table.unheaded(sample, options).into());
        }
        table.typed_in = table.units_typed();
        table.dialect.decimal_comma =
            options.decimal_comma.unwrap_or_else(|| table.writes_commas(sample));
        let paths = match &options.columns {
            Some(chosen) => chosen.clone(),
            None => table.answers_seen(sample),
        };
        table.set_answers(paths)?;
        Ok(table)
    }

    /// Reads all headings and what the query has besides; says of each what is wrong with it.
    fn read_columns(&mut self, options: &TableOptions) -> Result<(), Problem> {
        let mut faults = Vec::new();
        for (i, heading) in self.headings.clone().into_iter().enumerate() {
            let text = self.dialect.text(&heading).ok_or_else(not_utf_8)?;
            faults.extend(self.read_heading(&text, i).err().map(RequestFault::from));
        }
        for (path, text) in &options.everywhere {
            let added = match Column::of(path, &self.service.question) {
                Ok(Column::Member(member)) => self.add(member, Source::Everywhere(text.clone())),
                Ok(Column::Own) => Err(Refused::heading(format!(
                    "The query has {path:?}, which is neither a member of the question nor an \
                     option of a table."
                ))),
                Err(refused) => Err(refused),
            };
            faults.extend(added.err().map(RequestFault::from));
        }
        if faults.is_empty() { Ok(()) } else { Err(Problem::with_faults(faults)) }
    }

    fn read_heading(&mut self, heading: &str, place: usize) -> Result<(), Refused> {
        if self.is_of_answer(heading) {
            return Err(Refused::heading(format!(
                "The heading {heading:?} is one that the answer uses. Rename the column \
                 or leave it out."
            )));
        }
        match Column::of(heading, &self.service.question)? {
            Column::Member(member) => self.add(member, Source::Cell(place)),
            Column::Own => Ok(()),
        }
    }

    /// Why a table is refused none of whose headings names a member.
    fn unheaded(&self, sample: &[u8], options: &TableOptions) -> Refused {
        let question = &self.service.question;
        let row = unheaded::headings_below(sample, self.dialect, question);
        let above = options.rows_above() + 1;
        unheaded::refused(above, row.map(|row| above + row), &first_of(question))
    }

    /// The system of units that every number of the caller's is typed in by its heading, if it is
    /// one.
    fn units_typed(&self) -> Option<UnitSystem> {
        let mut typed = self.members.iter().filter_map(|member| match member.kind {
            CellKind::Number(Some(row)) if row.units.metric != row.units.us => Some(member.units),
            _ => None,
        });
        let first = typed.next()??;
        typed.all(|units| units == Some(first)).then_some(first)
    }

    /// Whether a heading is one of the answer's, ignoring case.
    fn is_of_answer(&self, heading: &str) -> bool {
        let heading = heading.trim().to_lowercase();
        heading == PROBLEM_COLUMN
            || heading == STATEMENT
            || heading.contains('.') && self.service.record.has_path(&heading)
    }

    fn add(&mut self, member: Member, source: Source) -> Result<(), Refused> {
        if member.path == UNITS {
            self.units = source.clone();
        }
        let steps = self.steps(&member.path);
        let steps: Vec<(&str, bool)> =
            steps.iter().map(|(step, entry)| (step.as_str(), *entry)).collect();
        if !insert(&mut self.tree, &steps, self.members.len()) {
            return Err(Refused::heading(format!(
                "The member {:?} is given twice, or a member that contains it also has a value.",
                member.path
            )));
        }
        self.members.push(member);
        self.sources.push(source);
        Ok(())
    }

    /// The steps of a path; each says whether it is an entry of a list.
    fn steps(&self, path: &str) -> Vec<(String, bool)> {
        let mut shape = Some(&self.service.question);
        path.split('.')
            .map(|step| {
                let list = matches!(shape, Some(Shape::List(..)));
                shape = match shape {
                    Some(Shape::List(entry, _)) => Some(entry.as_ref()),
                    Some(shape) => shape.member(step),
                    None => None,
                };
                (step.to_owned(), list)
            })
            .collect()
    }
}
