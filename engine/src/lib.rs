//! The mass balance of water-mix cutting fluid.
//!
//! The engine is pure: no input or output, clock, environment, logging or
//! hidden state. It computes in metric units; what a caller in US units sees is
//! rescaled at the border, outside this crate.
//!
//! Where to look:
//!
//! - [`catalogue`]: the list of calculations
//! - [`calculation`]: what a calculation is
//! - [`calculations`]: what the service answers, by family, a folder each
//! - [`quantity`]: the table of numbers, their units and ranges
//! - [`document`]: a document without its type, beside its schema
//! - [`text`]: what the engine says, with numbers that stay data
//! - [`fluid`]: what a shop works with
//! - [`dynamics`]: a sump over time, in closed form from event to event
//! - [`uncertainty`]: how sure an answer is, for any calculation
//! - [`picture`]: pictures of an answer, as data
//! - [`dated`]: what happens on days, as data
//! - [`handbook`]: published figures
//! - [`numerics`]: solvers that prove their answers

pub mod calculation;
pub mod calculations;
pub mod catalogue;
pub mod dated;
pub mod document;
pub mod dynamics;
pub mod fluid;
pub mod handbook;
pub mod job_sheet;
pub mod numerics;
pub mod picture;
pub mod quantity;
pub mod text;
pub mod uncertainty;

/// The release that computed an answer, filed with it.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");
