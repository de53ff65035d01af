//! Asking for what an answer dates.

use crate::dated::EventsToList;
use crate::flat;
use crate::request::problem::{Problem, ProblemKind};
use crate::request::tree;
use crate::service::Service;
use serde_json::Value;

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
