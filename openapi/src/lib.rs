//! The contract that both sides of the wire share.
//!
//! Everything here is read from the engine's catalogue of calculations and
//! written once for all of them. Nothing here depends on HTTP beyond the names
//! and numbers that the contract itself uses.
//!
//! How a document travels:
//!
//! 1. [`service`] takes the bytes. serde reads a valid metric document straight
//!    into its question, which goes to the engine.
//! 2. Any other document is read as a tree ([`tree`]) and checked against its own published
//!    schema (`request/check.rs`); its property names must be ones that mix (`request/names.rs`).
//!    It is rescaled to metric by the schema's own units ([`Shape`]) and read as a question.
//! 3. The engine's answer or refusal becomes an [`envelope::Record`] or a
//!    [`problem::Problem`], rescaled the other way.
//!
//! The parts, each using only those above it:
//!
//! - `request/`: the envelope, the document as a tree, its faults, the problem;
//! - [`flat`]: documents as paths and texts, and back;
//! - `row/`: a row of a table read into a question and an answer written into one;
//! - `ways.rs`: from a question to its answer, once for every calculation;
//!   `plain.rs` says which documents may not take the quick way;
//! - [`document`]: the OpenAPI document and the list of calculations;
//! - [`service`]: every calculation by its name;
//! - [`table`]: a table in, a table out;
//! - [`lines`]: many documents, a line each.
//!
//! [`Shape`]: sumpwright_engine::document::Shape
//!
//! [`guarded`] turns a panic into a problem. [`sheet`] is what a
//! job sheet is drawn from, [`picture_width`] how wide pictures may be.
//!
//! # Decisions
//!
//! - **The schema is the unit border.** No calculation works in gallons. A number is rescaled because
//!   its schema has `x-quantity`, so the published unit and the applied one cannot differ.
//! - **`null` means "not given"** in a request, because many callers cannot leave a member out. An answer
//!   leaves members out and never contains `null`. In the flat form a blank text also means "not given".

pub mod dated;
mod dates;
pub mod document;
mod extent;
pub mod flat;
pub mod guarded;
pub mod lines;
pub mod picture_width;
mod plain;
mod request;
mod row;
pub mod service;
pub mod sheet;
pub mod table;
mod ways;
pub mod work;
mod written;

pub use document::{components, index, parameters};
pub use request::{envelope, problem, tree, uncertain};
