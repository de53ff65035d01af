//! Asks Sumpwright over HTTP if a server is named, otherwise in the same process by
//! the same engine.
//!
//! A question is the engine's own struct, and so is its answer:
//!
//! ```
//! use sumpwright_client::{Client, Request, UnitSystem};
//! use sumpwright_engine::calculations::sump::concentration::ConcentrationOfReading;
//! use sumpwright_engine::quantity::Quantity;
//!
//! let question: ConcentrationOfReading = serde_json::from_value(serde_json::json!({
//!     "reading": { "method": "refractometer", "brix": 4.8, "factor": 1.25 },
//! }))?;
//! let request = Request { units: UnitSystem::Metric, reference: None, uncertainty: None, question };
//! let record = Client::in_process().solve(&request)?;
//! assert_eq!(record.answer.concentration.get(), 6.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! The same of a service over the network (not run here, where none is):
//!
//! ```no_run
//! use sumpwright_client::{Client, Error, Server};
//!
//! let server = Server::new("http://127.0.0.1:8787", std::env::var("SUMPWRIGHT_KEY").ok(), 3)?;
//! let question = br#"{ "units": "us", "sump": { "capacity": 50, "volume": 40, "concentration": 5 },
//!                      "target": { "concentration": 8 } }"#;
//! match Client::of(server).solve_document("top-up", question) {
//!     Ok(record) => println!("{}", String::from_utf8_lossy(&record)),
//!     Err(Error::Problem(problem)) => println!("{}", problem.detail),
//!     Err(nobody) => println!("{nobody}"),
//! }
//! # Ok::<(), Error>(())
//! ```
//!
//! All other examples of this crate run without a service: [`Client::in_process`] answers as one does.
//!
//! - [`Client`]: asks one document or one table at a time
//! - [`lines`]: documents one after the other, a line each
//! - [`sheet`]: spreadsheets as files
//! - [`rows`]: the rows of a sheet, many at a time
//! - [`log`]: the rows of a sheet that are one question
//! - [`written`]: the answers as files, or as a new sheet of a workbook
//! - [`template`]: sheets to fill in
//! - [`mod@file`]: the reasons why a file cannot be read or written
//! - [`command_line`]: the command line of the program

mod ask;
mod called;
mod columns;
pub mod command_line;
mod error;
pub mod file;
pub mod lines;
pub mod log;
mod over_http;
pub mod rows;
pub mod sheet;
pub mod template;
pub mod written;

pub use ask::Client;
pub use error::Error;
pub use over_http::Server;
pub use sumpwright_engine::quantity::UnitSystem;
pub use sumpwright_openapi::envelope::{Record, Request};
pub use sumpwright_openapi::service::Extent;
pub use sumpwright_openapi::table::TableOptions;
