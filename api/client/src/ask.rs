//! A client: asks one document or one table at a time.

use crate::over_http::Server;
use std::sync::Arc;
use sumpwright_engine::calculation::Calculation;
use sumpwright_openapi::envelope::{Record, Request};
use sumpwright_openapi::flat;
use sumpwright_openapi::problem::Problem;
use sumpwright_openapi::service::{Service, Services};
use sumpwright_openapi::table::{RowEnds, Table, TableOptions, as_list};

/// Asks a server, or the engine in this process.
pub struct Client {
    services: Services,
    server: Option<Server>,
}

/// Why there is no answer.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The question has no answer, and this is why.
    #[error("{}", .0.in_a_cell())]
    Problem(Box<Problem>),
    /// The server could not be asked.
    #[error("the server could not be asked: {0}")]
    Transport(#[from] reqwest::Error),
    /// Something came back that is no answer.
    #[error("the server sent something that is no answer: {0}")]
    NotAnAnswer(String),
    /// There is no calculation of this name.
    #[error("{0}")]
    Unknown(String),
}

impl From<Problem> for Error {
    fn from(problem: Problem) -> Self {
        Self::Problem(Box::new(problem))
    }
}

impl Client {
    /// A client that computes in this process. Nothing is started and nothing is
    /// sent.
    #[must_use]
    pub fn in_process() -> Self {
        Self { services: Services::new(), server: None }
    }

    /// A client of a server.
    #[must_use]
    pub fn of(server: Server) -> Self {
        Self { services: Services::new(), server: Some(server) }
    }

    /// Asks a question of the engine's own.
    pub fn solve<C: Calculation>(&self, request: &Request<C>) -> Result<Record<C::Answer>, Error> {
        let document =
            serde_json::to_vec(request).map_err(|error| Error::NotAnAnswer(error.to_string()))?;
        let answered = self.solve_document(C::NAME, &document)?;
        serde_json::from_slice(&answered).map_err(|error| Error::NotAnAnswer(error.to_string()))
    }

    /// Asks a document, as JSON.
    pub fn solve_document(&self, calculation: &str, document: &[u8]) -> Result<Vec<u8>, Error> {
        let service = self.service(calculation)?;
        match &self.server {
            Some(server) => {
                server.post(&format!("/v1/{calculation}"), "application/json", document)
            }
            None => Ok(service.answer(document)?),
        }
    }

    /// Asks a table, as CSV: a row a document, or the one list that the question
    /// is. `everywhere` is the same for every row.
    pub fn solve_table(
        &self,
        calculation: &str,
        table: &[u8],
        everywhere: &[(String, String)],
    ) -> Result<Vec<u8>, Error> {
        let service = self.service(calculation)?;
        if let Some(server) = &self.server {
            return server.post_table(calculation, table, everywhere);
        }
        let options = TableOptions { everywhere: everywhere.to_vec(), ..TableOptions::default() };
        if let Some(list) = service.list() {
            let (document, decimal_comma) = as_list(service, list, table, &options)?;
            let pairs = document.iter().map(|(path, text)| (path.as_str(), text.as_str()));
            return Ok(flat::names_and_values(&service.answer_flat(pairs)?, decimal_comma));
        }
        let first = RowEnds::first(table).unwrap_or(table.len());
        let (headings, rows) = table.split_at(first);
        let mut ends = RowEnds::below(headings);
        let last = ends.last(rows).unwrap_or(0);
        // A quotation mark that is not closed is not answered as if it were.
        let whole = if ends.is_open() { last } else { rows.len() };
        let (rows, open) = rows.split_at(whole);
        let table = Table::open(Arc::clone(service), headings, rows, &options)?;
        let mut answered = table.heading();
        table.answer(rows, &mut answered);
        if !open.is_empty() {
            table.answer_open(open, &mut answered);
        }
        Ok(answered)
    }

    /// The calculation of a name.
    pub fn service(&self, calculation: &str) -> Result<&Arc<Service>, Error> {
        let unknown = || Error::Unknown(self.services.unknown(calculation).detail);
        self.services.get(calculation).ok_or_else(unknown)
    }
}
