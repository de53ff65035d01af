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
//! - [`Client`]: asks one document or one table at a time
//! - [`lines`]: documents one after the other, a line each
//! - [`rows`]: the rows of a spreadsheet, many at a time
//! - [`sheet`]: spreadsheets as files
//! - [`mod@file`]: the reasons why a file cannot be read or written
//! - [`command_line`]: the command line of the program

mod ask;
pub mod command_line;
mod error;
pub mod file;
pub mod lines;
mod over_http;
mod percentages;
pub mod rows;
pub mod sheet;

pub use ask::Client;
pub use error::Error;
pub use over_http::Server;
pub use sumpwright_engine::quantity::UnitSystem;
pub use sumpwright_openapi::envelope::{Record, Request};
pub use sumpwright_openapi::service::Extent;
