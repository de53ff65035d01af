//! A client: asks one document or one table at a time.

use crate::error::Error;
use crate::over_http::Server;
use std::sync::{Arc, LazyLock};
use sumpwright_engine::calculation::Calculation;
use sumpwright_openapi::envelope::{Record, Request};
use sumpwright_openapi::service::{Service, Services};
use sumpwright_openapi::table::{TableOptions, answer_whole};

/// Asks a server, or the engine in this process.
pub struct Client {
    /// Drawn up when one of them is asked about: a server knows its own.
    services: LazyLock<Services>,
    server: Option<Server>,
}

impl Client {
    /// A client that computes in this process. Nothing is started and nothing is
    /// sent.
    #[must_use]
    pub fn in_process() -> Self {
        Self { services: LazyLock::new(Services::new), server: None }
    }

    /// A client of a server.
    #[must_use]
    pub fn of(server: Server) -> Self {
        Self { services: LazyLock::new(Services::new), server: Some(server) }
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
        match &self.server {
            Some(server) => {
                server.post(&format!("/v1/{calculation}"), "application/json", document)
            }
            None => Ok(self.service(calculation)?.answer(document)?),
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
        if let Some(server) = &self.server {
            return server.post_table(calculation, table, everywhere);
        }
        let options = TableOptions { everywhere: everywhere.to_vec(), ..TableOptions::default() };
        Ok(answer_whole(self.service(calculation)?, table, &options)?)
    }

    /// The calculation of a name.
    pub fn service(&self, calculation: &str) -> Result<&Arc<Service>, Error> {
        let unknown = || Error::Unknown(self.services.unknown(calculation).detail);
        self.services.get(calculation).ok_or_else(unknown)
    }
}
