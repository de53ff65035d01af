//! The meaning of a heading, for a program that reads a table before it is asked.

use super::heading::Column;
use crate::request::problem::RequestFault;
use crate::row::member::{CellKind, Member};
use crate::service::Service;
use sumpwright_engine::document::Shape;

/// The meaning of a heading.
#[derive(Debug, Clone, PartialEq)]
pub enum Meaning {
    /// A member of the question, or of an entry of its one list.
    Member {
        /// Its path in the flat form.
        path: String,
        /// Whether its values are numbers.
        is_number: bool,
    },
    /// A column of the caller's own.
    Own,
    /// A heading that no table can have, and why.
    Fault(String),
}

/// The meaning of a heading in a table for `service`.
#[must_use]
pub fn meaning(heading: &str, service: &Service) -> Meaning {
    let list = service.list().and_then(|list| service.question.member(list));
    let shape = match list {
        Some(Shape::List(entry, _)) => entry,
        _ => &service.question,
    };
    match Column::of(heading, shape) {
        Ok(Column::Member(Member { path, kind, .. })) => {
            Meaning::Member { path, is_number: matches!(kind, CellKind::Number(_)) }
        }
        Ok(Column::Own) => Meaning::Own,
        Err(refused) => Meaning::Fault(RequestFault::from(refused).detail),
    }
}
