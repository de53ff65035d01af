//! What checks the whole from outside.
//!
//! - [`calculations`]: a folder a calculation: published values beside what made them,
//!   laws, and every refusal
//! - [`contract`]: what all calculations share: documents, addresses, tables, problems,
//!   the service and the client
//! - [`house`]: the rules of the house that a compiler does not hold
//! - [`support`]: what the tests have in common
//!
//! In `tools/` is what runs outside cargo.

mod calculations;
mod contract;
mod house;
mod support;

use support::{SERVICES, assert_near, assert_problem, draws, number, server, service, solve, spec};
