//! What an answer dates, for a calendar to show.

use crate::flat;
use crate::request::problem::{Problem, ProblemKind};
use crate::request::tree;
use crate::service::Service;
use serde_json::Value;
use sumpwright_engine::dated::DatedEvents;
use sumpwright_engine::quantity::UnitSystem;

/// What an answer dates, with the texts and units for writing it.
#[derive(Debug, Clone, PartialEq)]
pub struct EventsToList {
    /// Name of the calculation.
    pub calculation: &'static str,
    /// The caller's own reference, unchanged.
    pub reference: Option<String>,
    /// The units of its amounts.
    pub units: UnitSystem,
    /// What is to be done on which day.
    pub dated: DatedEvents,
}

impl Service {
    /// Whether its answers say what is to be done on which day.
    #[must_use]
    pub fn has_events(&self) -> bool {
        self.events.is_some()
    }

    /// What the answer to a document dates.
    pub fn events(&self, bytes: &[u8]) -> Result<EventsToList, Problem> {
        self.events_tree(tree::parse(bytes)?)
    }

    /// What the answer to a document in its flat form dates.
    pub fn events_flat<'a>(
        &self,
        pairs: impl IntoIterator<Item = (&'a str, &'a str)>,
    ) -> Result<EventsToList, Problem> {
        self.events_tree(flat::unflatten(pairs, &self.question)?)
    }

    fn events_tree(&self, document: Value) -> Result<EventsToList, Problem> {
        let Some(events) = self.events else {
            let detail = format!("{} dates nothing.", self.name);
            return Err(Problem::plain(ProblemKind::NotAcceptable, detail));
        };
        Ok(self.by_tree(document, events)?.0)
    }
}
