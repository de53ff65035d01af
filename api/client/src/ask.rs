//! A client that asks one document, many of them or a table at a time.

use crate::error::Error;
use crate::over_http::Server;
use std::sync::{Arc, LazyLock};
use sumpwright_engine::calculation::Calculation;
use sumpwright_openapi::envelope::{Record, Request};
use sumpwright_openapi::lines::{Lines, NDJSON};
use sumpwright_openapi::service::{Extent, Service, Services};
use sumpwright_openapi::table::{TableOptions, answer_whole};

/// A client of a server, or of the engine in this process.
pub struct Client {
    /// Built on first use: a server has its own.
    services: LazyLock<Services>,
    server: Option<Server>,
}

impl Client {
    /// A client that calculates in this process. Nothing is started and nothing is
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

    /// Asks a question given as a struct of the engine.
    pub fn solve<C: Calculation>(&self, request: &Request<C>) -> Result<Record<C::Answer>, Error> {
        let document =
            serde_json::to_vec(request).map_err(|error| Error::NotAnAnswer(error.to_string()))?;
        let answered = self.solve_document(C::NAME, &document)?;
        serde_json::from_slice(&answered).map_err(|error| Error::NotAnAnswer(error.to_string()))
    }

    /// Asks a document given as JSON.
    pub fn solve_document(&self, calculation: &str, document: &[u8]) -> Result<Vec<u8>, Error> {
        match &self.server {
            Some(server) => {
                server.post(&format!("/v1/{calculation}"), "application/json", None, document)
            }
            None => Ok(self.service(calculation)?.answer(document)?),
        }
    }

    /// Asks documents given one after the other, a line each: each is answered with a line, a
    /// record to this extent or the problem that there is instead.
    pub fn solve_lines(
        &self,
        calculation: &str,
        lines: &[u8],
        extent: Extent,
    ) -> Result<Vec<u8>, Error> {
        if let Some(server) = &self.server {
            let prefer = (extent == Extent::Minimal).then_some("return=minimal");
            return server.post(&format!("/v1/{calculation}"), NDJSON, prefer, lines);
        }
        let mut answers = Vec::new();
        let service = Arc::clone(self.service(calculation)?);
        Lines::new(service, extent).answer_while(lines, &mut answers, |_, _| true);
        Ok(answers)
    }

    /// Asks a table given as CSV: each row is a document, or the whole table is the
    /// question's one list.
    pub fn solve_table(
        &self,
        calculation: &str,
        table: &[u8],
        options: &TableOptions,
    ) -> Result<Vec<u8>, Error> {
        match &self.server {
            Some(server) => server.post_table(calculation, table, options),
            None => Ok(answer_whole(self.service(calculation)?, table, options)?),
        }
    }

    /// The calculation with this name.
    pub fn service(&self, calculation: &str) -> Result<&Arc<Service>, Error> {
        let unknown = || Error::Unknown(self.services.unknown(calculation).detail);
        self.services.get(calculation).ok_or_else(unknown)
    }
}
