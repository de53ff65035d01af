//! The mass balance of water-mix cutting fluid.
//!
//! The engine is pure: no input or output, clock, environment, logging or
//! hidden state. It computes in metric units; what a caller in US units sees is
//! rescaled at the border, outside this crate.
//!
//! Where to look:
//!
//! - [`calculation`]: what a calculation is, and the list of all of them
//! - [`calculations`]: one file a calculation, what the service answers
//! - [`quantity`]: the table of numbers, their units and ranges
//! - [`fluid`], [`properties`], [`stock`]: what a litre is made of, and what there is to mix from
//! - [`caution`], [`finding`]: what can hurt in doing what an answer says, and what to look at first
//! - [`text`]: the caller's own words
//! - [`reading`]: an instrument's reading and the concentration it stands for
//! - [`balance`]: streams that must close
//! - [`losses`]: what a sump loses while it works
//! - [`course`]: a sump over time, in closed form from event to event
//! - [`uncertainty`]: how sure an answer is, for any calculation
//! - [`cut_off`]: ending a calculation before it is done
//! - [`chart`]: a picture of an answer, as data
//! - [`practice`]: the bounds of the trade, and what is said beyond them
//! - [`refusal`], [`sentence`]: why a sound question has no answer
//! - [`handbook`]: published figures
//! - [`numerics`]: solvers that prove their answers

pub mod balance;
pub mod calculation;
pub mod calculations;
pub mod caution;
pub mod chart;
pub mod course;
pub mod cut_off;
pub mod finding;
pub mod fluid;
pub mod handbook;
pub mod losses;
pub mod numerics;
pub mod practice;
pub mod properties;
pub mod quantity;
pub mod reading;
pub mod refusal;
pub mod sentence;
pub mod stock;
pub mod text;
pub mod uncertainty;

/// The release that computed an answer, filed with it.
pub const VERSION: &str = env!("CARGO_PKG_VERSION");
