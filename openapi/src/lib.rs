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
//!    schema ([`faults`]) and its names against what mixes (`names.rs`), rescaled to metric by the schema's own units
//!    ([`shape`]), and asked.
//! 3. The engine's answer or refusal becomes a [`envelope::Record`] or a
//!    [`problem::Problem`], rescaled the other way.
//!
//! The ways themselves are written once for every calculation, in `ways.rs`;
//! `plain.rs` says which documents may not take the first of them.
//! [`flat`] turns documents into paths and back; [`table`] answers tables, a row a document; [`document`], [`components`] and
//! [`parameters`] draw up the OpenAPI document, [`index`] the list of what there is.
//! [`uncertain`] takes a request's uncertainty across the unit border and the answer's back.
//! [`guarded`] turns a panic into a problem. [`steps`] says which answers can be printed as a job sheet.

mod answers;
pub mod components;
pub mod document;
pub mod envelope;
pub mod faults;
pub mod flat;
pub mod guarded;
mod headers;
pub mod index;
mod lengths;
mod names;
mod operations;
pub mod parameters;
mod plain;
pub mod problem;
pub mod service;
pub mod shape;
pub mod steps;
pub mod table;
pub mod tree;
pub mod uncertain;
mod ways;
