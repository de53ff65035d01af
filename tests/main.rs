//! Tests of the whole from outside.
//!
//! - [`calculations`]: one folder per calculation: published values with their scripts,
//!   laws, and every refusal
//! - [`contract`]: everything that all calculations share: documents, addresses, tables,
//!   problems, the service and the client
//! - [`house`]: the rules of the project that a compiler does not enforce
//! - [`support`]: helpers for many tests
//!
//! The checks that run outside cargo are in `tools/`.

mod calculations;
mod contract;
mod house;
mod support;

use support::{SERVICES, assert_near, assert_problem, draws, number, server, service, solve, spec};
