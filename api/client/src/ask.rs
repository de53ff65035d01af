//! A client that asks one document, many of them or a table at a time.

use crate::error::Error;
use crate::over_http::Server;
use std::sync::{Arc, LazyLock};
use sumpwright_engine::calculation::Calculation;
use sumpwright_openapi::envelope::{Record, Request};
use sumpwright_openapi::lines::{Lines, NDJSON};
use sumpwright_openapi::service::{Extent, Service, Services};
use sumpwright_openapi::table::{TableOptions, answer_whole};

/// Built on first use, once for all clients of this process; a server has its own.
static SERVICES: LazyLock<Services> = LazyLock::new(Services::new);

/// A client of a server, or of the engine in this process.
pub struct Client {
    server: Option<Server>,
}

impl Client {
    /// A client that calculates in this process. Nothing is started and nothing is
    /// sent.
    #[must_use]
    pub fn in_process() -> Self {
        Self { server: None }
    }

    /// A client of a server.
    #[must_use]
    pub fn of(server: Server) -> Self {
        Self { server: Some(server) }
    }

    /// Asks a question given as a struct of the engine.
    pub fn solve<C: Calculation>(&self, request: &Request<C>) -> Result<Record<C::Answer>, Error> {
        let document =
            serde_json::to_vec(request).map_err(|error| Error::NotAnAnswer(error.to_string()))?;
        let answered = self.solve_document(C::NAME, &document)?;
        serde_json::from_slice(&answered).map_err(|error| Error::NotAnAnswer(error.to_string()))
    }

    /// Asks a document given as JSON; the answer is the record, as JSON. A document without an answer is
    /// an [`Error::Problem`], which names every fault with its place:
    ///
    /// ```
    /// use sumpwright_client::{Client, Error};
    ///
    /// let client = Client::in_process();
    /// let question = br#"{ "units": "metric", "sump": { "capacity": 200, "volume": 140, "concentration": 7 },
    ///                      "target": { "concentration": 8 } }"#;
    /// let record: serde_json::Value =
    ///     serde_json::from_slice(&client.solve_document("top-up", question)?)?;
    /// // 200 L at 8 % hold 16 L of concentrate, and 140 L at 7 % hold 9.8 L.
    /// assert_eq!(record["answer"]["add"][0]["volume"], 6.2);
    ///
    /// let wrong = br#"{ "units": "metric", "sump": { "capacity": 200, "volume": 210 }, "target": {} }"#;
    /// let Err(Error::Problem(problem)) = client.solve_document("top-up", wrong) else { panic!() };
    /// assert_eq!(problem.errors[0].pointer, "/target/concentration");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
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
    ///
    /// ```
    /// use sumpwright_client::{Client, Extent};
    ///
    /// let reading = r#"{"units":"metric","reading":{"method":"refractometer","brix":4.8,"factor":1.25}}"#;
    /// let lines = format!("{reading}\n{{\"units\":\"metric\"}}\n");
    /// let answers =
    ///     Client::in_process().solve_lines("concentration", lines.as_bytes(), Extent::Minimal)?;
    /// let answers = String::from_utf8(answers)?;
    /// let mut answers = answers.lines();
    /// assert!(answers.next().is_some_and(|record| record.contains(r#""concentration":6.0"#)));
    /// assert!(answers.next().is_some_and(|problem| problem.contains("/problems/malformed")));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
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
    /// question's one list. A row without an answer says why in its last column.
    ///
    /// ```
    /// use sumpwright_client::{Client, TableOptions};
    ///
    /// let table = "machine,sump.volume [litres]\nlathe 1,140\nlathe 2,210\n";
    /// let everywhere = [("units", "metric"), ("sump.capacity", "200"), ("sump.concentration", "7"),
    ///                   ("target.concentration", "8")];
    /// let options = TableOptions {
    ///     everywhere: everywhere.map(|(path, text)| (path.to_owned(), text.to_owned())).into(),
    ///     columns: Some(vec!["answer.add.0.volume".to_owned()]),
    ///     ..TableOptions::default()
    /// };
    /// let answered = Client::in_process().solve_table("top-up", table.as_bytes(), &options)?;
    /// let answered = String::from_utf8(answered)?;
    /// let rows: Vec<&str> = answered.lines().collect();
    /// assert_eq!(rows[1], "lathe 1,140,6.2,");
    /// assert!(rows[2].starts_with("lathe 2,210,,") && rows[2].contains("210 L"));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
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
    ///
    /// ```
    /// let client = sumpwright_client::Client::in_process();
    /// assert!(client.service("top-up")?.example.contains("target"));
    /// let unknown = client.service("topup").err().map(|error| error.to_string());
    /// assert!(unknown.is_some_and(|told| told.contains("Did you mean \"top-up\"?")));
    /// # Ok::<(), sumpwright_client::Error>(())
    /// ```
    pub fn service(&self, calculation: &str) -> Result<&Arc<Service>, Error> {
        let unknown = || Error::Unknown(SERVICES.unknown(calculation).detail);
        SERVICES.get(calculation).ok_or_else(unknown)
    }
}
