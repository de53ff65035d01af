//! What both sides of the wire agree on.
//!
//! Everything here is read from the engine's catalogue of calculations and
//! written once for all of them. Nothing here knows of HTTP beyond the names
//! and numbers that the contract itself uses.
//!
//! How a document travels:
//!
//! 1. [`service`] takes the bytes. A metric document that is right goes straight
//!    through serde into its question and on to the engine.
//! 2. Anything else is read as a tree ([`tree`]), held against its own published
//!    schema (`request/check.rs`) and its names against what mixes (`request/names.rs`),
//!    rescaled to metric by the schema's own units ([`Shape`]), and asked.
//! 3. The engine's answer or refusal becomes a [`envelope::Record`] or a
//!    [`problem::Problem`], rescaled the other way.
//!
//! What each part is for, every one using only those above it:
//!
//! - `request/`: the envelope, the document as a tree, its faults, the problem;
//! - [`flat`]: documents as paths and texts, and back;
//! - `row/`: a row of a table read into a question and an answer written into one;
//! - `ways.rs`: from a question to its answer, once for every calculation;
//!   `plain.rs` says which documents may not take the quick one;
//! - [`document`]: the OpenAPI document and the list of what there is;
//! - [`service`]: every calculation by its name;
//! - [`table`]: a table in, a table out.
//!
//! [`Shape`]: sumpwright_engine::document::Shape
//!
//! [`guarded`] turns a panic into a problem. [`steps`] says which answers can be
//! printed as a job sheet.
//!
//! # Decisions
//!
//! - **The schema is the unit border.** No calculation knows of gallons. A number is rescaled because
//!   its schema says `x-quantity`, so the published unit and the applied one cannot differ.
//! - **`null` means "not given"** in a request, because many callers cannot leave a member out. An answer
//!   leaves members out and never says `null`. In the flat form a blank does the same.

pub mod document;
pub mod flat;
pub mod guarded;
mod plain;
mod request;
mod row;
pub mod service;
pub mod steps;
pub mod table;
mod ways;
mod written;

pub use document::{components, index, parameters};
pub use request::{envelope, problem, tree, uncertain};
