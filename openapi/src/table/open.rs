//! Reads the headings of a table and settles the columns of its answer.

use super::columns::PROBLEM_COLUMN;
use super::dialect::Dialect;
use super::heading::{Column, read_headings};
use super::options::TableOptions;
use super::refused::{Refused, not_utf_8};
use super::state::{Answers, Table};
use crate::request::envelope::{STATEMENT, UNITS};
use crate::request::problem::Problem;
use crate::request::tree::BYTE_ORDER_MARK;
use crate::row::cells::{Source, insert};
use crate::row::leaves::Columns;
use crate::row::member::Member;
use crate::service::Service;
use std::sync::Arc;
use sumpwright_engine::document::Shape;
use sumpwright_engine::document::Tree;

impl Table {
    /// Reads the first row of a table, and the rows of `sample` as an example of
    /// the rest.
    pub fn open(
        service: Arc<Service>,
        headings: &[u8],
        sample: &[u8],
        options: &TableOptions,
    ) -> Result<Self, Problem> {
        let headings = headings.strip_prefix(BYTE_ORDER_MARK).unwrap_or(headings);
        let dialect = Dialect::of(headings, options.latin)?;
        let headings = read_headings(headings, dialect)?;
        let mut table = Self {
            service,
            dialect,
            members: Vec::new(),
            sources: Vec::new(),
            tree: Tree::Members(Vec::new()),
            units: Source::Everywhere(String::new()),
            answers: Answers {
                paths: Vec::new(),
                columns: Columns { chosen: options.columns.is_some(), ..Columns::default() },
            },
            headings,
        };
        table.read_columns(options)?;
        table.dialect.decimal_comma =
            options.decimal_comma.unwrap_or_else(|| table.writes_commas(sample));
        let paths = match &options.columns {
            Some(chosen) => chosen.clone(),
            None => table.answers_seen(sample),
        };
        table.set_answers(paths)?;
        Ok(table)
    }

    fn read_columns(&mut self, options: &TableOptions) -> Result<(), Problem> {
        for (i, heading) in self.headings.clone().into_iter().enumerate() {
            let text = self.dialect.text(&heading).ok_or_else(not_utf_8)?;
            if self.is_of_answer(&text) {
                return Err(Refused::heading(format!(
                    "The heading {text:?} is one that the answer uses. Rename the column \
                     or leave it out."
                ))
                .into());
            }
            if let Column::Member(member) = Column::of(&text, &self.service.question)? {
                self.add(member, Source::Cell(i))?;
            }
        }
        for (path, text) in &options.everywhere {
            match Column::of(path, &self.service.question)? {
                Column::Member(member) => self.add(member, Source::Everywhere(text.clone()))?,
                Column::Own => {
                    let detail = format!(
                        "The query has {path:?}, which is neither a member of the question nor an \
                         option of a table."
                    );
                    return Err(Refused::heading(detail).into());
                }
            }
        }
        Ok(())
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
